/** Where a take begins and ends. Levels and seconds are estimates of ours. */
import { describe, expect, it } from 'vitest';
import { FrameReader } from '../../views/assets/listening/frames.js';
import { judge } from '../../views/assets/listening/judge.js';
import { noteAbove } from '../../views/assets/listening/note-names.js';
import { Take } from '../../views/assets/listening/take.js';
import { makeNoise, makeTone, sampleRate } from './support/tones.ts';

const note = 220;
const quiet = (seconds: number) => makeNoise(seconds, 0.0005);
const breath = (seconds: number) => makeNoise(seconds, 0.02);
const tone = (seconds: number) => makeTone({ frequency: note, seconds, noise: 30 });

function take(...parts: Float32Array[]): Take {
  const reader = new FrameReader(sampleRate, note);
  const kept = new Take();
  for (const part of parts) kept.add(reader.push(part));
  return kept;
}

/** Seconds that a take is long. */
const seconds = ({ heard }: Take): number => heard.length * 0.008;

describe('a take', () => {
  it('begins with the note and not with the breath before it', () => {
    const kept = take(quiet(1), breath(1.5), tone(3));
    expect(kept.isDone).toBe(true);
    expect(seconds(kept)).toBeCloseTo(2, 1);
    expect(judge(kept.heard, note).verdict).toBe('speaks');
  });

  it('ends when the note has ended', () => {
    const kept = take(tone(1), quiet(1));
    expect(kept.isDone).toBe(true);
    expect(seconds(kept)).toBeCloseTo(1, 1);
  });

  it('goes on waiting after a click or a short squeak', () => {
    const kept = take(quiet(0.5), tone(0.2), quiet(1));
    expect(kept.isDone).toBe(false);
    expect(kept.start).toBeNull();
  });

  it('is not ended by a short gap in the note', () => {
    const kept = take(tone(0.8), quiet(0.3), tone(1.5));
    expect(seconds(kept)).toBeCloseTo(2, 1);
    expect(judge(kept.heard, note)).toMatchObject({ verdict: 'unsteady' });
  });

  it('is given up when no note has come for six seconds, and is then silent', () => {
    const waiting = take(breath(5));
    expect(waiting.isDone).toBe(false);
    const kept = take(breath(7));
    expect(kept.isDone).toBe(true);
    expect(judge(kept.heard, note).verdict).toBe('silent');
    expect(judge(take(quiet(7)).heard, note).verdict).toBe('silent');
  });

  it('leaves out what comes after its end', () => {
    const kept = take(tone(5));
    const { length } = kept.frames;
    kept.add(kept.frames.slice(0, 10));
    expect(kept.frames).toHaveLength(length);
  });
});

describe('the names of notes', () => {
  it('go up and down by semitones, over the octave too', () => {
    expect(noteAbove('C#4', 12)).toBe('C#5');
    expect(noteAbove('B3', 1)).toBe('C4');
    expect(noteAbove('C4', -2)).toBe('Bb3');
    expect(noteAbove('Bb3', 19)).toBe('F5');
    expect(() => noteAbove('H4', 1)).toThrow(RangeError);
  });
});
