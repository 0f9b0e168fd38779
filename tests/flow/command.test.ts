import { execFile } from 'node:child_process';
import { cpSync, mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { promisify } from 'node:util';
import { afterAll, describe, expect, test } from 'vitest';
import { flowsFolder } from './support.ts';

const command = new URL('../../src/commands/prove-flows.ts', import.meta.url).pathname;
const kept = ['turn-screw.yaml', 'change-reed.yaml', 'coach-player.yaml', 'free-pad.yaml'];
const folder = mkdtempSync(join(tmpdir(), 'prove-'));
afterAll(() => rmSync(folder, { recursive: true, force: true }));

/** Runs the command on a copy of the charts in which one text is replaced by another. */
async function prove(
  name: string,
  file: string,
  before: string,
  after: string,
  ...options: readonly string[]
): Promise<{ code: number; out: string }> {
  const copy = join(folder, name);
  cpSync(flowsFolder, copy, { recursive: true });
  // Fewer procedures and one attempt: the search is short, and the command the same.
  for (const id of readdirSync(join(copy, 'procedures')).filter((entry) => !kept.includes(entry))) {
    rmSync(join(copy, 'procedures', id));
  }
  const main = join(copy, 'main.yaml');
  const shorter = readFileSync(main, 'utf8');
  writeFileSync(
    main,
    shorter
      .replace('tried: { from: 0, to: 3,', 'tried: { from: 0, to: 1,')
      .replaceAll('counter: tried, atLeast: 3', 'counter: tried, atLeast: 1'),
  );
  const path = join(copy, file);
  const text = readFileSync(path, 'utf8');
  expect(text).toContain(before);
  writeFileSync(path, text.replace(before, after));
  try {
    const { stdout } = await promisify(execFile)(process.execPath, [command, copy, ...options]);
    return { code: 0, out: stdout };
  } catch (error) {
    const failed = error as { code: number; stdout: string; stderr: string };
    return { code: failed.code, out: failed.stdout + failed.stderr };
  }
}

describe('the command that proves the charts', { timeout: 120_000 }, () => {
  test('prints each property, the way that breaks one, and fails', async () => {
    const { code, out } = await prove(
      'guess',
      'main.yaml',
      '- { when: [{ person: helper }, { supervised: true }], to: supervisor }\n',
      '',
      '--charts',
    );
    expect(code).toBe(1);
    expect(out).toMatch(/^OK {6}every-state-reached|^FAILED {2}every-state-reached/m);
    expect(out).toMatch(/^FAILED {2}helper-approved/m);
    expect(out).toMatch(/begin as helper\n\s+understood: choice \S+\n\s+owner: choice \S+\n/);
    expect(out).toMatch(/\d+ configurations and \d+ moves/);
    expect(out).toContain('Some properties do not hold.');
  });

  test('tells a mistake in a file with its line, and fails', async () => {
    const { code, out } = await prove(
      'mistake',
      'procedures/free-pad.yaml',
      'exit: unchanged',
      'exit: unchained',
      '--charts',
    );
    expect(code).toBe(1);
    expect(out).toMatch(
      /procedures\/free-pad\.yaml:\d+:\d+, state try-it, choices > 1: leaves by the exit "unchained"/,
    );
  });

  test('reads the instruments too, and tells what is wrong with one', async () => {
    const { code, out } = await prove(
      'instrument',
      'instruments/alto-saxophone/layout.yaml',
      '  cup.gsharp:',
      '  cup.gflat:',
    );
    expect(code).toBe(1);
    expect(out).toMatch(/instruments\/alto-saxophone\/layout\.yaml:\d+:\d+, vents > cup\.gflat: /);
  });

  test('says when all is well', async () => {
    const { code, out } = await prove(
      'well',
      'main.yaml',
      'title: Whose instrument is it?',
      'title: Whose is it?',
      '--charts',
    );
    expect(code).toBe(0);
    expect(out).toContain('All properties hold.');
    expect(out).not.toContain('FAILED');
  });
});
