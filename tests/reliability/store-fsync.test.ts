import { execFileSync, spawnSync } from 'node:child_process';
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, test } from 'vitest';
import { temporaryDirectory } from '../store/support/places.ts';

const program = new URL('../store/programs/append-and-tell.ts', import.meta.url).pathname;
const isTracerInstalled = spawnSync('strace', ['-V']).status === 0;
if (!isTracerInstalled) {
  console.log(
    'Skipped: strace is not installed, so the order of sync and acknowledgement cannot be watched.',
  );
}

type Acknowledgement = { number: number; isWritten: boolean; isSynced: boolean };

/** For each acknowledgement: whether the log was written since the one before it, and synced after that. */
function readAcknowledgements(trace: string): Acknowledgement[] {
  const acknowledgements: Acknowledgement[] = [];
  const unfinished = new Map<string, string>();
  let isWritten = false;
  let isSynced = false;
  for (const line of trace.split('\n')) {
    const [thread = '', ...rest] = line.split(/\s+/);
    let call = rest.join(' ');
    if (call.endsWith('<unfinished ...>')) unfinished.set(thread, call);
    // A call that another thread cut in two counts when it is finished.
    if (call.endsWith('<unfinished ...>') && !call.startsWith('write(1')) continue;
    if (call.startsWith('<...')) call = unfinished.get(thread) ?? '';
    const spoken = /^write\(1\b.*"(begin|acknowledged (\d+))/.exec(call);
    if (spoken !== null) {
      if (spoken[2] !== undefined) acknowledgements.push({ number: Number(spoken[2]), isWritten, isSynced });
      isWritten = false;
      isSynced = false;
    } else if (/^p?write(64|v)?\(\d+<[^>]*-wal>/.test(call)) {
      isWritten = true;
      isSynced = false;
    } else if (/^f(data)?sync\(\d+<[^>]*-wal>/.test(call)) {
      isSynced = isWritten;
    }
  }
  return acknowledgements;
}

function trace(way: 'store' | 'driver'): Acknowledgement[] {
  const directory = temporaryDirectory();
  const output = join(directory, 'trace.txt');
  const calls = 'trace=write,writev,pwrite64,pwritev,fsync,fdatasync';
  execFileSync('strace', ['-f', '-y', '-e', calls, '-o', output, process.execPath, program, directory, way]);
  return readAcknowledgements(readFileSync(output, 'utf8'));
}

describe.skipIf(!isTracerInstalled)('what the system is asked to do before an answer is acknowledged', () => {
  const numbers = Array.from({ length: 10 }, (_, index) => index + 1);

  test('the log is written and then synced before every acknowledgement', () => {
    expect(trace('store')).toEqual(numbers.map((number) => ({ number, isWritten: true, isSynced: true })));
  });

  test('the watch would notice: the bare driver, as it comes, acknowledges what it has not synced', () => {
    const acknowledgements = trace('driver');
    expect(acknowledgements.map(({ number }) => number)).toEqual(numbers);
    expect(acknowledgements.every(({ isWritten }) => isWritten)).toBe(true);
    expect(acknowledgements.some(({ isSynced }) => isSynced)).toBe(false);
  });
});
