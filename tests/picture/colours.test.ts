import { readFileSync } from 'node:fs';
import { describe, expect, test } from 'vitest';

const css = readFileSync(new URL('../../views/assets/picture.css', import.meta.url), 'utf8');

/** The custom properties of the blocks for light, dark and print. */
const light = readColours(css.slice(0, css.indexOf('@media')));
const dark = readColours(blockAfter('prefers-color-scheme: dark'));
const print = readColours(blockAfter('@media print'));

function blockAfter(start: string): string {
  const from = css.indexOf(start);
  return css.slice(from, css.indexOf('@media', from + 10));
}

function readColours(block: string): Map<string, string> {
  return new Map(
    [...block.matchAll(/--picture-([\w-]+): (#[0-9a-f]{6})/g)].map(([, name, colour]) => [name!, colour!]),
  );
}

/** Contrast ratio of two colours as WCAG 2.2 defines it. */
function contrast(one: string, other: string): number {
  const [lighter, darker] = [luminance(one), luminance(other)].toSorted((a, b) => b - a);
  return (lighter! + 0.05) / (darker! + 0.05);
}

function luminance(colour: string): number {
  const channels = [1, 3, 5].map((at) => Number.parseInt(colour.slice(at, at + 2), 16) / 255);
  const [red, green, blue] = channels.map((value) =>
    value <= 0.04045 ? value / 12.92 : ((value + 0.055) / 1.055) ** 2.4,
  );
  return 0.2126 * red! + 0.7152 * green! + 0.0722 * blue!;
}

describe.each([
  ['light', light],
  ['dark', dark],
  ['print', print],
])('colours of the pictures, %s', (_, colours) => {
  const ratio = (one: string, other: string) => contrast(colours.get(one)!, colours.get(other)!);

  test('words stand out from what they lie on', () => {
    for (const ground of ['paper', 'metal']) expect(ratio('ink', ground)).toBeGreaterThanOrEqual(7);
    expect(ratio('on', 'press')).toBeGreaterThanOrEqual(4.5);
    expect(ratio('soft', 'paper')).toBeGreaterThanOrEqual(4.5);
  });

  test('marks and outlines stand out from the instrument and from the paper', () => {
    for (const mark of ['press', 'watch', 'turn', 'not', 'soft', 'metal-line']) {
      for (const ground of ['paper', 'metal']) {
        expect(ratio(mark, ground), `${mark} on ${ground}`).toBeGreaterThanOrEqual(3);
      }
    }
  });
});

test('colours are written only as custom properties, the same set for light, dark and print', () => {
  const elsewhere = css
    .split('\n')
    .filter((line) => /#[0-9a-f]{3,8}\b/i.test(line) && !/^\s*--picture-/.test(line));
  expect(elsewhere).toEqual([]);
  expect([...dark.keys()].toSorted()).toEqual([...light.keys()].toSorted());
  expect([...print.keys()].toSorted()).toEqual([...light.keys()].toSorted());
});

test('print is black on white', () => {
  for (const mark of ['ink', 'press', 'watch', 'turn', 'not']) expect(print.get(mark)).toBe('#000000');
  expect(print.get('paper')).toBe('#ffffff');
});

test('there are rules for forced colours that name system colours only', () => {
  const forced = blockAfter('forced-colors: active');
  expect(forced).toContain('--picture-ink: CanvasText');
  expect(forced.slice(0, forced.indexOf('}'))).not.toMatch(/#[0-9a-f]{3}/i);
});
