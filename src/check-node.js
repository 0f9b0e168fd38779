// Plain JavaScript on purpose: an older Node must be able to read this file to say what is wrong.
const [major = 0, minor = 0] = process.versions.node.split('.').map(Number);

if (major < 22 || (major === 22 && minor < 18)) {
  console.error(
    `Quarter Turn needs Node 24 (22.18 at the least) and this is Node ${process.versions.node}: install Node 24 from your system's usual place and run the same command again.`,
  );
  process.exit(1);
}
