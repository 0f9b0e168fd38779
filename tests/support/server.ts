/** Starts the real program (or a bare one to compare it with) as its user would, on a free port, with an empty data folder of its own. */
import { type ChildProcess, spawn } from 'node:child_process';
import { mkdtemp, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';

const root = new URL('../../', import.meta.url).pathname;

export type RunningServer = {
  readonly address: string;
  /** Milliseconds from starting the process to its saying where it listens. */
  readonly startedIn: number;
  readonly dataDirectory: string;
  readonly process: ChildProcess;
  /** Everything the program printed so far. */
  output(): string;
  /** Ends the program (SIGTERM, or the signal given) and waits for it. The data folder stays. */
  stop(signal?: NodeJS.Signals): Promise<number | null>;
  /** Ends the program and removes its data folder. */
  dispose(): Promise<void>;
};

/**
 * Starts the program and waits until it says where it listens.
 *
 * @param options which program of this repository; a data folder to use again; further environment variables
 * @throws if the program ends before it listens; the message carries what it printed
 */
export async function startServer(
  options: { program?: string; dataDirectory?: string; environment?: Record<string, string> } = {},
): Promise<RunningServer> {
  const dataDirectory = options.dataDirectory ?? (await mkdtemp(join(tmpdir(), 'quarter-turn-')));
  const begin = performance.now();
  const child = spawn(process.execPath, [root + (options.program ?? 'src/start.js')], {
    env: {
      ...process.env,
      HOST: '127.0.0.1',
      PORT: '0',
      LOG_LEVEL: 'warn',
      DATA_DIR: dataDirectory,
      ...options.environment,
    },
    stdio: ['ignore', 'pipe', 'pipe'],
  });
  const killWithTests = (): void => void child.kill('SIGKILL');
  process.once('exit', killWithTests);
  child.once('exit', () => process.off('exit', killWithTests));
  let printed = '';
  const ended = new Promise<number | null>((resolve) => child.once('exit', (code) => resolve(code)));
  const address = await new Promise<string>((resolve, reject) => {
    const listen = (chunk: Buffer): void => {
      printed += chunk.toString();
      const found = /http:\/\/127\.0\.0\.1:\d+/.exec(printed);
      if (found !== null) resolve(found[0]);
    };
    child.stdout?.on('data', listen);
    child.stderr?.on('data', listen);
    void ended.then((code) =>
      reject(new Error(`The program ended with ${code} before it listened: ${printed}`)),
    );
  });
  const startedIn = performance.now() - begin;
  const stop = async (signal: NodeJS.Signals = 'SIGTERM'): Promise<number | null> => {
    child.kill(signal);
    return ended;
  };
  return {
    address,
    startedIn,
    dataDirectory,
    process: child,
    output: () => printed,
    stop,
    dispose: async () => {
      await stop();
      await rm(dataDirectory, { recursive: true, force: true });
    },
  };
}
