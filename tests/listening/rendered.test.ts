/**
 * The listener on sampled instruments: notes that a player once held with vibrato, so nothing here is made to fit the rules.
 *
 * Sources: the sound font TimGM6mb (Tim Brechbill, GPL 2, from Debian's package timgm6mb-soundfont); frequencies from equal
 * temperament at A4 = 440 Hz (ISO 16:1975) by the library tonal. The font's own tuning is up to 25 cents off on the
 * baritone saxophone, so the pitch is held to 30 cents. These notes set two thresholds (thresholds.js says which): they
 * prove that good notes are not called faulty, and nothing about faulty ones.
 */
import { Midi } from 'tonal';
import { describe, expect, it } from 'vitest';
import { FrameReader } from '../../views/assets/listening/frames.js';
import { judge } from '../../views/assets/listening/judge.js';
import { quantile } from '../../views/assets/listening/measures.js';
import { Take } from '../../views/assets/listening/take.js';
import { canRender, renderNote } from './support/rendered.ts';
import { sampleRate } from './support/tones.ts';

/** Program, sounding MIDI number, next register as a multiple of the note's frequency. */
const notes = [
  // An alto saxophone's written low B flat, low C sharp, G, C sharp in the middle and high F sharp.
  ['alto saxophone', 49, 2],
  ['alto saxophone', 52, 2],
  ['alto saxophone', 58, 2],
  ['alto saxophone', 64, 2],
  ['alto saxophone', 81, 2],
  ['tenor saxophone', 44, 2],
  ['baritone saxophone', 36, 2],
  ['clarinet', 50, 3],
  ['clarinet', 69, 3],
  ['flute', 60, 2],
  ['oboe', 72, 2],
  ['bassoon', 34, 2],
  ['trumpet', 65, 2],
  ['trombone', 46, 2],
] as const;

describe.runIf(canRender)('a sampled note', () => {
  it.each(notes)('of the %s, MIDI %i, speaks, and its pitch is found', (program, sounding, mode) => {
    const expected = Midi.midiToFreq(sounding);
    const take = new Take();
    take.add(new FrameReader(sampleRate, expected, mode).push(renderNote(program, sounding)));
    expect(judge(take.heard, expected)).toMatchObject({ verdict: 'speaks' });
    const cents = take.heard.map(({ frequency }) => 1200 * Math.log2(frequency / expected));
    expect(Math.abs(quantile(cents, 0.5))).toBeLessThan(30);
  });

  it('is another note when another one was asked for', () => {
    const heard = renderNote('alto saxophone', 64);
    const asked = Midi.midiToFreq(52);
    const take = new Take();
    take.add(new FrameReader(sampleRate, asked).push(heard));
    expect(judge(take.heard, asked)).toMatchObject({ verdict: 'wrong', heard: 12 });
  });
});
