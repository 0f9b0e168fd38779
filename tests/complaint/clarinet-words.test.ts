/** What clarinet players say, read for the B flat clarinet. There is no source for how people talk. */
import { expect, test } from 'vitest';
import { readComplaint } from '../../src/complaint/index.ts';
import { midi } from '../../src/mechanism/index.ts';
import { instrumentOf, tell, vocabulary } from './support/reading.ts';

const { instrument, model } = instrumentOf('bb-clarinet');

function likely(text: string): string[] {
  return readComplaint(instrument, model, vocabulary, text)
    .proposals.filter(({ isLikely }) => isLikely)
    .flatMap(({ findings }) => findings.map(tell));
}

test.each([
  ['throat B flat is stuffy', ['Bb4=unsteady']],
  ['clarion B flat flutters', ['Bb5=unsteady']],
  ['low E and F will not come out', ['E3=silent', 'F3=silent']],
  ['upper E squeaks', ['E5=unsteady']],
  ['high E squeaks', ['E6=unsteady']],
  ['the bridge key is misaligned', ['bridge-line@link.bridge=beside']],
])('"%s"', (text, findings) => {
  expect(likely(text)).toEqual(findings);
});

test.each([
  ['she can’t get over the break', 'B4', 'D5', 'silent'],
  ['throat tones are fuzzy', 'G4', 'Bb4', 'unsteady'],
  ['the chalumeau register is airy', 'E3', 'F#4', 'unsteady'],
  ['the altissimo does not speak', 'C#6', 'G6', 'silent'],
] as const)('"%s" speaks of the notes from %s to %s', (_text, from, to, answered) => {
  const found = likely(_text);
  expect(found.length).toBeGreaterThan(2);
  for (const finding of found) {
    const [note, how] = finding.split('=');
    expect(how).toBe(answered);
    expect(midi(note!)).toBeGreaterThanOrEqual(midi(from));
    expect(midi(note!)).toBeLessThanOrEqual(midi(to));
  }
});
