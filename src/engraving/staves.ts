/** The written notes on their staves: engraved ahead, once, and kept. */
import type { Instrument } from '../mechanism/index.ts';
import type { WrittenNote } from './engrave.ts';
import { engraveAside } from './engrave-aside.ts';
import { keepStaves, readKeptStaves } from './kept-staves.ts';
import { staffWords } from './words.ts';

/** A note on its staff: SVG text, and the same in words. */
export type Staff = { readonly svg: string; readonly words: string };

export interface Staves {
  /**
   * Waits until the notes of these instruments are engraved, or cannot be. Never throws: what cannot be engraved is told to
   * `onFailure`, and tried again after a while, each time a longer one.
   */
  prepare(...instruments: Instrument[]): Promise<void>;
  /** A note of a prepared instrument on its staff, or null where it could not be engraved. */
  find(instrument: Instrument, note: string): Staff | null;
}

export type StavesOptions = {
  /** Path of the file in which they are kept for the next start; without it, each start engraves anew. */
  readonly keptAt?: string;
  /** Milliseconds that engraving may take, and so the longest that a page waits for it. */
  readonly limit?: number;
  readonly onFailure?: (error: Error) => void;
  /** The time in milliseconds, from any beginning. */
  readonly now?: () => number;
};

/** Measured: about a second for the notes of all instruments, several where the machine has much else to do. A figure of ours. */
const usualLimit = 30_000;

/** How long a note that failed is left alone, in milliseconds: the first time, and at most. Figures of ours. */
const firstPause = 60_000;
const longestPause = 60 * firstPause;

type Failure = { readonly pause: number; readonly until: number };

/** Opens the shelf of staves. Nothing is engraved before an instrument is prepared. */
export function openStaves(options: StavesOptions = {}): Staves {
  const { keptAt, limit = usualLimit, onFailure, now = () => performance.now() } = options;
  const pictures = keptAt === undefined ? new Map<string, string>() : readKeptStaves(keptAt);
  const failures = new Map<string, Failure>();
  let turn: Promise<void> = Promise.resolve();

  /** The notes that have no picture and may be tried now, each once. */
  function findMissing(instruments: readonly Instrument[]): WrittenNote[] {
    const missing = new Map<string, WrittenNote>();
    for (const { clef, fingerings } of instruments) {
      for (const { note } of fingerings) {
        const key = keyOf({ clef, note });
        if (!pictures.has(key) && now() >= (failures.get(key)?.until ?? 0)) missing.set(key, { clef, note });
      }
    }
    return [...missing.values()];
  }

  function leaveAlone(written: readonly WrittenNote[]): void {
    for (const key of written.map(keyOf)) {
      const pause = Math.min(longestPause, 2 * (failures.get(key)?.pause ?? firstPause / 2));
      failures.set(key, { pause, until: now() + pause });
    }
  }

  async function engraveMissing(instruments: readonly Instrument[]): Promise<void> {
    const missing = findMissing(instruments);
    if (missing.length === 0) return;
    try {
      for (const { svg, ...written } of await engraveAside(missing, limit)) pictures.set(keyOf(written), svg);
      if (keptAt !== undefined) keepStaves(keptAt, pictures);
      const failed = missing.filter((written) => !pictures.has(keyOf(written)));
      leaveAlone(failed);
      if (failed.length > 0) onFailure?.(new Error(`Not engraved: ${failed.map(keyOf).join(', ')}.`));
    } catch (error) {
      leaveAlone(missing);
      onFailure?.(error as Error);
    }
  }

  return {
    prepare(...instruments) {
      // One thread at a time; whoever comes meanwhile finds most of it done.
      turn = turn.then(() => engraveMissing(instruments));
      return turn;
    },
    find({ clef }, note) {
      const svg = pictures.get(keyOf({ clef, note }));
      return svg === undefined ? null : { svg, words: staffWords(clef, note) };
    },
  };
}

function keyOf({ clef, note }: WrittenNote): string {
  return `${clef} ${note}`;
}
