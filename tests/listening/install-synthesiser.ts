/** Installs what renders notes for the tests of the listener: fluidsynth and a sound font of 6 MB, from Debian's packages. */
import { spawnSync } from 'node:child_process';
import { canRender } from './support/rendered.ts';

const packages = ['fluidsynth', 'timgm6mb-soundfont'];

/** Runs one command with its output shown; true if it ended well. */
function run(command: string, parameters: string[]): boolean {
  console.log(`> ${command} ${parameters.join(' ')}`);
  return spawnSync(command, parameters, { stdio: ['ignore', 'inherit', 'inherit'] }).status === 0;
}

const mayInstall = process.getuid?.() === 0 && spawnSync('apt-get', ['--version']).status === 0;
if (canRender) {
  console.log('The tests of the listener will render notes with fluidsynth.');
} else if (!mayInstall) {
  console.log(
    `Notes cannot be rendered here, so those tests are left out; they want Debian's packages ${packages.join(' and ')}.`,
  );
} else if (
  !run('apt-get', ['update', '-qq']) ||
  !run('apt-get', ['install', '-y', '-qq', '--no-install-recommends', ...packages])
) {
  console.error(
    `The packages ${packages.join(' and ')} could not be installed. Install them, and run this again.`,
  );
  process.exit(1);
}
