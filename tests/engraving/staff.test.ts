import { Note } from 'tonal';
import { describe, expect, test } from 'vitest';
import { engrave } from '../../src/engraving/engrave.ts';
import type { Clef } from '../../src/mechanism/index.ts';
import { alto } from '../mechanism/support/alto.ts';
import { parseMarkup, type Tag } from '../picture/support/markup.ts';

/** The note of the bottom line under each clef. Common music notation, from any primer. */
const bottomLines: Readonly<Record<Clef, string>> = { treble: 'E4', bass: 'G2', alto: 'F3', tenor: 'D3' };

const altoNotes = [...new Set(alto.fingerings.map(({ note }) => note))];
const written: Readonly<Record<Clef, readonly string[]>> = {
  treble: [...altoNotes, 'F##4', 'Ebb5', 'E3', 'C7'],
  bass: ['E2', 'Bb2', 'B2', 'C#3', 'C4', 'F4', 'Bb4'],
  alto: ['C3', 'C4', 'F#5'],
  tenor: ['C3', 'Bb3', 'A4'],
};
const listed = Object.entries(written).flatMap(([clef, notes]) =>
  notes.map((note) => ({ clef: clef as Clef, note })),
);
const all = (await engrave(listed)).map((staff) => ({ ...staff, tags: parseMarkup(staff.svg) }));

function tagsOf(clef: Clef, note: string): readonly Tag[] {
  const found = all.find((staff) => staff.clef === clef && staff.note === note);
  if (found === undefined) throw new Error(`${note} was not engraved in the ${clef} clef`);
  return found.tags;
}

const partOf = (tags: readonly Tag[], name: string): Tag | undefined =>
  tags.find((tag) => tag.attributes.get('class') === `staff-${name}`);

/** Where a glyph was put, in units of a tenth of a space: right, and up from the bottom line. */
function placeOf(tag: Tag | undefined): [x: number, up: number] {
  const [, x, y] = /^translate\((-?\d+) (-?\d+)\)/.exec(tag?.attributes.get('transform') ?? '') ?? [];
  return [Number(x), 0 - Number(y)];
}

/** Heights of horizontal lines in path data, up from the bottom line. */
const heightsOf = (tag: Tag | undefined): number[] =>
  [...(tag?.attributes.get('d') ?? '').matchAll(/M-?\d+ (-?\d+)H/g)].map(([, y]) => 0 - Number(y));

/** Steps from the bottom line, counted by a general-purpose music-theory library from the letters and octaves alone. */
function stepsAbove(clef: Clef, note: string): number {
  const position = (name: string) => {
    const { oct, step } = Note.get(name);
    return 7 * (oct ?? Number.NaN) + step;
  };
  return position(note) - position(bottomLines[clef]);
}

describe('an engraved note', () => {
  test.each(all)('$note in the $clef clef stands where the clef says', ({ clef, note, tags }) => {
    expect(placeOf(partOf(tags, 'notehead'))[1]).toBe(5 * stepsAbove(clef, note));
  });

  test('stands on five lines, a space apart, behind the clef, within the frame', () => {
    for (const { note, tags } of all) {
      expect(heightsOf(partOf(tags, 'lines'))).toEqual([40, 30, 20, 10, 0]);
      const [left = 0, top = 0, width = 0, height = 0] = (tags[0]?.attributes.get('viewBox') ?? '')
        .split(' ')
        .map(Number);
      const [x, up] = placeOf(partOf(tags, 'notehead'));
      expect(x, note).toBeGreaterThan(placeOf(partOf(tags, 'clef'))[0] + 15);
      expect(x, note).toBeLessThan(left + width - 10);
      for (const y of [-40, 0, 5 - up, -5 - up]) {
        expect(y, note).toBeGreaterThan(top);
        expect(y, note).toBeLessThan(top + height);
      }
    }
  });

  test('has a short line for every line that it passes outside the staff, and no other', () => {
    for (const { clef, note, tags } of all) {
      const steps = stepsAbove(clef, note);
      const below = Array.from({ length: Math.max(0, Math.floor(-steps / 2)) }, (_, n) => -10 * (n + 1));
      const above = Array.from({ length: Math.max(0, Math.floor((steps - 8) / 2)) }, (_, n) => 50 + 10 * n);
      const up = (one: number, other: number) => one - other;
      expect(heightsOf(partOf(tags, 'ledger')).sort(up), note).toEqual([...below, ...above].sort(up));
    }
  });

  test('has its accidental before it at its height, each kind with a shape of its own, and none where none is written', () => {
    const shapes = new Map<string, Set<string>>();
    for (const { note, tags } of all) {
      const { acc } = Note.get(note);
      const sign = partOf(tags, 'accid');
      if (acc === '') {
        expect(sign, note).toBeUndefined();
        continue;
      }
      const [head, before] = [placeOf(partOf(tags, 'notehead')), placeOf(sign)];
      expect(before[1], note).toBe(head[1]);
      expect(before[0], note).toBeLessThan(head[0]);
      shapes.set(acc, (shapes.get(acc) ?? new Set()).add(sign?.attributes.get('d') ?? ''));
    }
    expect([...shapes.keys()].sort()).toEqual(['#', '##', 'b', 'bb']);
    expect([...shapes.values()].map(({ size }) => size)).toEqual([1, 1, 1, 1]);
    expect(new Set([...shapes.values()].flatMap((set) => [...set])).size).toBe(4);
  });

  test('draws the sharp with straight strokes only and the flat with a round bowl', () => {
    // What a sharp and a flat look like is common music notation; a curve in path data is the letter c or s.
    const shapeOf = (note: string) => partOf(tagsOf('treble', note), 'accid')?.attributes.get('d');
    expect(shapeOf('C#4')).toMatch(/^[^cs]+$/);
    expect(shapeOf('Bb3')).toMatch(/[cs]/);
  });

  test('draws another sign for the treble, the bass and the C clefs, each on its line', () => {
    const signs = new Map(all.map(({ clef, tags }) => [clef, partOf(tags, 'clef')]));
    const height = (clef: Clef) => placeOf(signs.get(clef))[1];
    // The treble clef marks G4, the bass clef F3, the C clefs C4.
    expect([height('treble'), height('bass'), height('alto'), height('tenor')]).toEqual([10, 30, 20, 30]);
    expect(new Set([...signs.values()].map((tag) => tag?.attributes.get('d'))).size).toBe(3);
  });

  test('is small, has no id, no style, no script and nothing from elsewhere, and takes the colour around it', () => {
    for (const { svg, tags } of all) {
      expect(Buffer.byteLength(svg)).toBeLessThan(3_500);
      expect([...new Set(tags.map(({ name }) => name))]).toEqual(['svg', 'path']);
      for (const tag of tags)
        for (const attribute of tag.attributes.keys())
          expect(attribute).not.toMatch(/^(id|style|on\w+|.*href)$/);
      expect(svg).not.toMatch(/url\(|#[0-9a-f]{3}|NaN|undefined|Infinity/i);
      expect(tags[0]?.attributes.get('fill')).toBe('currentColor');
    }
  });
});

describe('the words of an engraved note', () => {
  const wordsOf = (clef: Clef, note: string) => tagsOf(clef, note)[0]?.attributes.get('aria-label');

  test.each([
    ['treble', 'C#4', 'C sharp in the treble clef, on the first extra line below the staff'],
    ['treble', 'Bb3', 'B flat in the treble clef, just below the first extra line below the staff'],
    ['treble', 'D4', 'D in the treble clef, just below the staff'],
    ['treble', 'B4', 'B in the treble clef, on the middle line'],
    ['treble', 'C5', 'C in the treble clef, in the third space'],
    ['treble', 'F6', 'F in the treble clef, just above the third extra line above the staff'],
    ['treble', 'F##4', 'F double sharp in the treble clef, in the lowest space'],
    ['bass', 'C4', 'C in the bass clef, on the first extra line above the staff'],
    ['tenor', 'A4', 'A in the tenor clef, just above the first extra line above the staff'],
  ] as const)('%s clef, %s', (clef, note, words) => {
    expect(wordsOf(clef, note)).toBe(words);
  });

  test('tell every place of a clef apart', () => {
    const places = written.treble.filter((note) => Note.get(note).acc === '');
    expect(new Set(places.map((note) => wordsOf('treble', note))).size).toBe(places.length);
  });
});

test('a name that is no note is refused by its name', async () => {
  await expect(engrave([{ clef: 'treble', note: 'H4' }])).rejects.toThrow('"H4" is not a note name');
});
