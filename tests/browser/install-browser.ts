/** Finds a Chromium for the browser tests, and installs one where there is none. */
import { spawnSync } from 'node:child_process';
import { findBrowser } from './support/find-browser.ts';

/** Runs one command with its output shown; true if it ended well. */
function run(command: string, parameters: string[]): boolean {
  console.log(`> ${command} ${parameters.join(' ')}`);
  return spawnSync(command, parameters, { stdio: ['ignore', 'inherit', 'inherit'] }).status === 0;
}

/** Debian's own package where this is Debian and the user may install; else the test library's download. */
function installBrowser(): boolean {
  const isRoot = process.getuid?.() === 0;
  const hasApt = spawnSync('apt-get', ['--version']).status === 0;
  if (hasApt && isRoot) {
    const isUpdated = run('apt-get', ['update', '-qq']);
    if (isUpdated && run('apt-get', ['install', '-y', '-qq', 'chromium', 'fonts-dejavu-core'])) return true;
  }
  return run('npx', ['playwright-core', 'install', 'chromium']);
}

const found = findBrowser();
if (found !== undefined) {
  console.log(`The browser tests will use ${found}.`);
} else if (!installBrowser() || findBrowser() === undefined) {
  console.error(
    'No Chromium could be installed. Install Chromium or Chrome yourself, or name one in the variable CHROMIUM, and run this again.',
  );
  process.exit(1);
}
