/** Starts the servers that are measured, each as a process of its own. */
import { type ChildProcess, spawn } from 'node:child_process';
import { mkdtemp, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';

export type MeasuredServer = {
  readonly address: string;
  /** Milliseconds from starting the process to listening. */
  readonly startedIn: number;
  stop(): Promise<void>;
};

/**
 * Starts a program of this repository and waits until it prints its address.
 *
 * @param program its file
 * @param folder data folder to use and to leave; without it an empty one that is removed at the end
 */
export async function startMeasured(program: string, folder?: string): Promise<MeasuredServer> {
  const path = new URL(`../../${program}`, import.meta.url).pathname;
  const data = folder ?? (await mkdtemp(join(tmpdir(), 'quarter-turn-bench-')));
  const begin = performance.now();
  const child = spawn(process.execPath, [path], {
    env: { ...process.env, HOST: '127.0.0.1', PORT: '0', DATA_DIR: data, LOG_LEVEL: 'warn' },
    stdio: ['ignore', 'pipe', 'inherit'],
  });
  const address = await readAddress(child);
  const startedIn = performance.now() - begin;
  return {
    address,
    startedIn,
    async stop() {
      const ended = new Promise((resolve) => child.once('exit', resolve));
      child.kill('SIGTERM');
      await ended;
      if (folder === undefined) await rm(data, { recursive: true, force: true });
    },
  };
}

function readAddress(child: ChildProcess): Promise<string> {
  return new Promise((resolve, reject) => {
    let printed = '';
    child.stdout?.on('data', (chunk: Buffer) => {
      printed += chunk.toString();
      const found = /http:\/\/127\.0\.0\.1:\d+/.exec(printed);
      if (found !== null) resolve(found[0]);
    });
    child.once('exit', (code) => reject(new Error(`the server ended with ${code}: ${printed}`)));
  });
}
