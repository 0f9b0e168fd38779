/**
 * How much a held note wavers while a key is tapped, on tones made here: a leak that the taps open is a note that gives way
 * three times a second. Depths and rates are estimates of ours.
 */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { FrameReader } from '../../views/assets/listening/frames.js';
import { waveringInWords, waveringOf } from '../../views/assets/listening/wavering.js';
import { makeNoise, makeTone, sampleRate } from './support/tones.ts';

const note = 220;
const measure = (samples: Float32Array) => waveringOf(new FrameReader(sampleRate, note).push(samples));

/** A note that gives way by this much, in loudness and pitch, at each of three taps a second. */
function tapped(give: number): Float32Array {
  const isDown = (time: number) => Math.floor(time * 6) % 2 === 1;
  const tone = makeTone({
    frequency: note,
    seconds: 2.5,
    noise: 30,
    follow: (time) => (isDown(time) ? 2 ** ((-0.5 * give) / 12) : 1),
  });
  return tone.map((sample, at) => sample * (isDown(at / sampleRate) ? 1 - 0.7 * give : 1));
}

describe('the wavering of a held note', () => {
  it('is next to nothing when the taps do nothing', () => {
    expect(measure(tapped(0))).toBeLessThan(0.1);
    expect(waveringInWords(measure(tapped(0))!)).toBe('hardly wavers');
  });

  it('falls as the note gives way less, as it does turn by turn', () => {
    const figures = [1, 0.6, 0.3, 0.1, 0].map((give) => measure(tapped(give))!);
    expect([...figures].sort((one, other) => other - one)).toEqual(figures);
    expect(waveringInWords(figures[0]!)).toMatch(/strongly|clearly/);
  });

  it('is all there is when the note jumps to the next register', () => {
    const jumping = makeTone({ frequency: note, follow: (time) => (Math.floor(time * 6) % 2 === 0 ? 1 : 2) });
    expect(measure(jumping)).toBe(1);
  });

  it('is not told where no note was held', () => {
    expect(measure(makeNoise(2, 0.05))).toBeNull();
    expect(measure(makeTone({ frequency: note, seconds: 0.3 }))).toBeNull();
    expect(waveringOf([])).toBeNull();
  });

  it('lies between nothing and one whatever is heard, and has a word', () => {
    fc.assert(
      fc.property(
        fc.double({ min: 0, max: 1, noNaN: true }),
        fc.integer({ min: 0, max: 900 }),
        (depth, cents) => {
          const figure = measure(
            makeTone({
              frequency: note,
              seconds: 1,
              beating: { depth, rate: 3 },
              vibrato: { cents, rate: 5 },
            }),
          );
          if (figure === null) return;
          expect(figure).toBeGreaterThanOrEqual(0);
          expect(figure).toBeLessThanOrEqual(1);
          expect(waveringInWords(figure)).toMatch(/waver/);
        },
      ),
      { numRuns: 15 },
    );
  });
});
