import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, describe, expect, test, vi } from 'vitest';
import { openStaves } from '../../src/engraving/index.ts';
import type { Instrument } from '../../src/mechanism/index.ts';
import { alto } from '../mechanism/support/alto.ts';

const folder = mkdtempSync(join(tmpdir(), 'staves-'));
const keptAt = join(folder, 'kept', 'notes.json');
afterAll(() => rmSync(folder, { recursive: true }));

/** The alto with a few of its notes, or with others, or in another clef: invented instruments. */
const withNotes = (notes: readonly string[], clef: Instrument['clef'] = 'treble'): Instrument => ({
  ...alto,
  clef,
  fingerings: notes.map((note) => ({ ...alto.fingerings[0]!, note })),
});
const small = withNotes(['C#4', 'B4']);

describe('the shelf of engraved notes', () => {
  test('has every note of an instrument once it is prepared, with the words that the picture carries', async () => {
    const staves = openStaves();
    await staves.prepare(alto);
    for (const { note } of alto.fingerings) {
      const staff = staves.find(alto, note);
      expect(staff?.svg, note).toContain(`aria-label="${staff?.words}"`);
    }
  });

  test('has nothing of an instrument that was not prepared', () => {
    expect(openStaves().find(small, 'B4')).toBeNull();
  });

  test('shows the same note in the clef of each instrument', async () => {
    const staves = openStaves();
    const low = withNotes(['B4'], 'bass');
    await staves.prepare(small, low);
    expect(staves.find(small, 'B4')?.words).toBe('B in the treble clef, on the middle line');
    expect(staves.find(low, 'B4')?.words).toContain('bass clef');
    expect(staves.find(low, 'B4')?.svg).not.toBe(staves.find(small, 'B4')?.svg);
  });

  test('keeps what it engraved: the next start waits for no engraver', async () => {
    await openStaves({ keptAt }).prepare(small);
    const onFailure = vi.fn();
    // No engraver is done within no time, so whatever is there was kept.
    const next = openStaves({ keptAt, limit: 0, onFailure });
    await next.prepare(small);
    expect(onFailure).not.toHaveBeenCalled();
    expect(next.find(small, 'C#4')?.svg).toMatch(/^<svg/);
  });

  test.each([
    ['made by other drawing code', (text: string) => text.replace(/"madeBy":"[^"]{8}/, '"madeBy":"00000000')],
    ['cut off', (text: string) => text.slice(0, text.length / 2)],
    ['holding something that is no picture', (text: string) => text.replace('<svg', '<img')],
  ])('engraves anew where the kept file is %s', async (_how, spoil) => {
    await openStaves({ keptAt }).prepare(small);
    writeFileSync(keptAt, spoil(readFileSync(keptAt, 'utf8')));
    expect(openStaves({ keptAt }).find(small, 'B4')).toBeNull();
    const staves = openStaves({ keptAt });
    await staves.prepare(small);
    expect(staves.find(small, 'B4')?.svg).toMatch(/^<svg/);
  });

  test('does without the file where it cannot be written', async () => {
    const staves = openStaves({ keptAt: join(keptAt, 'below-a-file.json') });
    await staves.prepare(small);
    expect(staves.find(small, 'B4')).not.toBeNull();
  });

  test('gives up what takes too long or fails, says so once, and leaves the note without a staff', async () => {
    const onFailure = vi.fn();
    const late = openStaves({ limit: 0, onFailure });
    await late.prepare(small);
    await late.prepare(small);
    expect(late.find(small, 'B4')).toBeNull();
    expect(onFailure).toHaveBeenCalledExactlyOnceWith(
      expect.objectContaining({ message: expect.stringContaining('given up') }),
    );

    const broken = openStaves({ onFailure });
    await broken.prepare(withNotes(['nonsense']));
    expect(onFailure).toHaveBeenLastCalledWith(expect.objectContaining({ name: 'RangeError' }));
    await broken.prepare(small);
    expect(broken.find(small, 'B4')).not.toBeNull();
  });

  test('tries a note that failed again after a minute, and then after longer and longer', async () => {
    const onFailure = vi.fn();
    let minutes = 0;
    const staves = openStaves({ onFailure, now: () => minutes * 60_000 });
    const broken = withNotes(['nonsense']);
    const triedAt: number[] = [];
    for (; minutes < 8; minutes += 1) {
      await staves.prepare(broken);
      if (onFailure.mock.calls.length > triedAt.length) triedAt.push(minutes);
    }
    expect(triedAt).toEqual([0, 1, 3, 7]);
  });

  test('engraves the others where one note fails, and says which', async () => {
    const onFailure = vi.fn();
    const staves = openStaves({ onFailure });
    await staves.prepare(withNotes(['C#4', 'nonsense', 'B4']));
    expect(staves.find(small, 'B4')).not.toBeNull();
    expect(onFailure).toHaveBeenCalledExactlyOnceWith(
      expect.objectContaining({ message: 'Not engraved: treble nonsense.' }),
    );
  });

  test('answers others while it engraves', async () => {
    let isDone = false;
    const prepared = openStaves()
      .prepare(alto)
      .then(() => {
        isDone = true;
      });
    let turns = 0;
    while (!isDone) {
      await new Promise((resolve) => setImmediate(resolve));
      turns += 1;
    }
    await prepared;
    // The program goes round often meanwhile; engraving in its own thread would let it go round hardly at all.
    expect(turns).toBeGreaterThan(50);
  });
});
