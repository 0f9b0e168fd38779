// Plain JavaScript on purpose: an older Node must be able to read this file to say what is wrong.
const [major = 0, minor = 0] = process.versions.node.split('.').map(Number);

if (major < 22 || (major === 22 && minor < 18)) {
  console.error(
    `Quarter Turn needs Node 24 and this is Node ${process.versions.node}. On Linux \`npm ci\` brings Node 24 along and \`npm start\` uses it; on other systems install Node 24 first.`,
  );
  process.exit(1);
}
