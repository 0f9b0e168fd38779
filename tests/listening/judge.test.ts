/**
 * The listener's verdicts on tones whose pitch and faults are known because they are made here.
 *
 * Sources: frequencies from equal temperament at A4 = 440 Hz (ISO 16:1975), worked out by the library tonal and not by the
 * program; the sounding range of the alto saxophone is its written range a major sixth lower (common practice, no source).
 * Rates and extents of vibrato, depths and levels are estimates of ours: they say what the rules do, not what players do.
 */
import fc from 'fast-check';
import { Note } from 'tonal';
import { describe, expect, it } from 'vitest';
import { FrameReader } from '../../views/assets/listening/frames.js';
import { judge } from '../../views/assets/listening/judge.js';
import { makeNoise, makeTone, sampleRate } from './support/tones.ts';

/** Frequency of a sounding note. */
const hertz = (note: string): number => Note.freq(note)!;
const lowBFlat = hertz('Db3');
const lowCSharp = hertz('E3');
const middleG = hertz('Bb3');
const highFSharp = hertz('A5');

function listen(samples: Float32Array, expected: number, rate = sampleRate) {
  return judge(new FrameReader(rate, expected).push(samples), expected);
}

describe('a note that holds', () => {
  it.each([
    ['low B flat', lowBFlat],
    ['low C sharp', lowCSharp],
    ['G', middleG],
    ['high F sharp', highFSharp],
  ])('speaks: %s of an alto saxophone', (_, frequency) => {
    expect(listen(makeTone({ frequency, noise: 30 }), frequency).verdict).toBe('speaks');
  });

  it.each([-30, 30])('speaks when it is %i cents out of tune', (cents) => {
    expect(listen(makeTone({ frequency: lowCSharp * 2 ** (cents / 1200) }), lowCSharp).verdict).toBe(
      'speaks',
    );
  });

  it('speaks with a vibrato of 25 cents to either side, five times a second', () => {
    const vibrato = { cents: 25, rate: 5 };
    const beating = { depth: 0.2, rate: 5 };
    expect(listen(makeTone({ frequency: middleG, vibrato, beating }), middleG).verdict).toBe('speaks');
  });

  it('speaks while it dies away to a quarter, because that is no wavering', () => {
    const fading = makeTone({ frequency: middleG }).map(
      (sample, at) => sample * 4 ** (-at / (2 * sampleRate)),
    );
    expect(listen(fading, middleG).verdict).toBe('speaks');
  });

  it('speaks whatever the pitch, the level and the sample rate of the microphone', () => {
    fc.assert(
      fc.property(
        fc.double({ min: 60, max: 1900, noNaN: true }),
        fc.double({ min: 0.008, max: 0.5, noNaN: true }),
        fc.constantFrom(44_100, 48_000),
        fc.double({ min: -50, max: 50, noNaN: true }),
        (expected, level, rate, cents) => {
          const frequency = expected * 2 ** (cents / 1200);
          const tone = makeTone({ frequency, level, rate, seconds: 1, noise: 30 });
          expect(listen(tone, expected, rate).verdict).toBe('speaks');
        },
      ),
      { numRuns: 25 },
    );
  });

  it('speaks through an offset and a rumble far below it', () => {
    const tone = makeTone({ frequency: lowCSharp, level: 0.05 });
    const shaken = tone.map(
      (sample, at) => sample + 0.2 + 0.05 * Math.sin((2 * Math.PI * 12 * at) / sampleRate),
    );
    expect(listen(shaken, lowCSharp).verdict).toBe('speaks');
  });
});

describe('a note that does not hold', () => {
  it('is unsteady when its loudness beats twelve times a second', () => {
    const { verdict, reasons } = listen(
      makeTone({ frequency: lowCSharp, beating: { depth: 0.4, rate: 12 } }),
      lowCSharp,
    );
    expect(verdict).toBe('unsteady');
    expect(reasons).toContain('Its loudness wavers, about 12 times a second.');
  });

  it('is unsteady when its loudness beats deeply at any rate', () => {
    const tone = makeTone({ frequency: lowCSharp, beating: { depth: 0.7, rate: 4 } });
    expect(listen(tone, lowCSharp).reasons).toEqual(['Its loudness wavers, about 4 times a second.']);
  });

  it('is unsteady when its pitch swings by more than a quarter tone to either side', () => {
    const tone = makeTone({ frequency: middleG, vibrato: { cents: 65, rate: 4 } });
    expect(listen(tone, middleG)).toMatchObject({ verdict: 'unsteady', reasons: ['Its pitch wavers.'] });
  });

  it('is unsteady when the next register comes and goes under it at the same loudness', () => {
    const warble = (mode: number) =>
      makeTone({
        frequency: lowCSharp,
        upper: { mode, share: (time) => 0.3 + 0.3 * Math.sin(2 * Math.PI * 6 * time) },
      });
    expect(listen(warble(2), lowCSharp).reasons).toContain('It warbles: the next register comes and goes.');
    const clarinet = judge(new FrameReader(sampleRate, lowCSharp, 3).push(warble(3)), lowCSharp);
    expect(clarinet.reasons).toContain('It warbles: the next register comes and goes.');
  });

  it('is unsteady when it breaks up', () => {
    const noise = makeNoise(2, 0.05);
    const broken = makeTone({ frequency: middleG }).map((sample, at) =>
      Math.floor(at / (0.15 * sampleRate)) % 2 === 0 ? sample : (noise[at] ?? 0),
    );
    expect(listen(broken, middleG)).toMatchObject({ verdict: 'unsteady' });
    expect(listen(broken, middleG).reasons).toContain('The note breaks up.');
  });

  it.each([
    ['an octave', 2],
    ['a twelfth', 3],
  ])('jumps when it goes up %s and back', (_, ratio) => {
    const tone = makeTone({
      frequency: lowCSharp,
      follow: (time) => (Math.floor(time * 3) % 2 === 0 ? 1 : ratio),
    });
    expect(listen(tone, lowCSharp)).toMatchObject({ verdict: 'jumps', heard: null });
  });
});

describe('another note', () => {
  it('is wrong, and named by its distance', () => {
    fc.assert(
      fc.property(
        fc.integer({ min: -5, max: 24 }).filter((semitones) => semitones !== 0),
        fc.integer({ min: -15, max: 15 }),
        (semitones, cents) => {
          const frequency = middleG * 2 ** ((semitones * 100 + cents) / 1200);
          const { verdict, heard } = listen(makeTone({ frequency, seconds: 1, noise: 30 }), middleG);
          expect({ verdict, heard }).toEqual({ verdict: 'wrong', heard: semitones });
        },
      ),
      { numRuns: 30 },
    );
  });

  it('is called by the name that the page gives it', () => {
    const frames = new FrameReader(sampleRate, lowCSharp).push(makeTone({ frequency: 2 * lowCSharp }));
    const name = (semitones: number) => `C sharp ${4 + semitones / 12}`;
    expect(judge(frames, lowCSharp, name).reasons).toEqual(['C sharp 5 came out.']);
  });
});

describe('no note', () => {
  it('is silent in a quiet room', () => {
    expect(listen(makeNoise(2, 0.0005), lowCSharp).verdict).toBe('silent');
  });

  it('is silent when there is only breath', () => {
    expect(listen(makeNoise(2, 0.05), lowCSharp)).toMatchObject({
      verdict: 'silent',
      reasons: ['Breath or noise was heard, and no note.'],
    });
  });
});

describe('"not sure"', () => {
  it('is said of a microphone that gives nothing at all', () => {
    expect(listen(new Float32Array(2 * sampleRate), lowCSharp)).toMatchObject({
      verdict: 'not-sure',
      reasons: ['The microphone gives no sound at all. Look whether it is switched off or covered.'],
    });
    expect(judge([], lowCSharp).verdict).toBe('not-sure');
  });

  it('is said of a take that is too short', () => {
    expect(listen(makeTone({ frequency: lowCSharp, seconds: 0.4 }), lowCSharp).verdict).toBe('not-sure');
  });

  it('is said of a note between two notes', () => {
    const { verdict, reasons } = listen(makeTone({ frequency: middleG * 2 ** (70 / 1200) }), middleG);
    expect(verdict).toBe('not-sure');
    expect(reasons[0]).toContain('between two notes, sharp');
  });

  it('is said of a slide', () => {
    const slide = makeTone({ frequency: middleG, follow: (time) => 2 ** ((time * 3.2 - 3.2) / 12) });
    expect(listen(slide, middleG).verdict).not.toMatch(/speaks|wrong|silent/);
  });
});

describe('the frames', () => {
  it('tell the pitch within two cents, in whatever pieces the samples come', () => {
    fc.assert(
      fc.property(
        fc.double({ min: 60, max: 1900, noNaN: true }),
        fc.integer({ min: 100, max: 9000 }),
        (frequency, length) => {
          const tone = makeTone({ frequency, seconds: 0.5 });
          const reader = new FrameReader(sampleRate, frequency);
          const pieces = Array.from({ length: Math.ceil(tone.length / length) }, (_, index) =>
            reader.push(tone.subarray(index * length, (index + 1) * length)),
          ).flat();
          expect(pieces).toEqual(new FrameReader(sampleRate, frequency).push(tone));
          for (const frame of pieces.slice(10)) {
            expect(Math.abs(1200 * Math.log2(frame.frequency / frequency))).toBeLessThan(2);
          }
        },
      ),
      { numRuns: 20 },
    );
  });

  it('refuse a rate or a note that is nothing', () => {
    expect(() => new FrameReader(0, 440)).toThrow(RangeError);
    expect(() => new FrameReader(48_000, Number.NaN)).toThrow(RangeError);
  });
});
