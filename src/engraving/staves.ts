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
   * `onFailure`, and not tried again, so that a page looks the same for as long as the program runs.
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
};

/** Measured: about a second for the notes of all instruments, several where the machine has much else to do. A figure of ours. */
const usualLimit = 30_000;

/** Opens the shelf of staves. Nothing is engraved before an instrument is prepared. */
export function openStaves({ keptAt, limit = usualLimit, onFailure }: StavesOptions = {}): Staves {
  const pictures = keptAt === undefined ? new Map<string, string>() : readKeptStaves(keptAt);
  const tried = new Set(pictures.keys());
  let turn: Promise<void> = Promise.resolve();

  async function engraveMissing(instruments: readonly Instrument[]): Promise<void> {
    const missing: WrittenNote[] = [];
    for (const { clef, fingerings } of instruments) {
      for (const { note } of fingerings) {
        if (tried.has(keyOf({ clef, note }))) continue;
        tried.add(keyOf({ clef, note }));
        missing.push({ clef, note });
      }
    }
    if (missing.length === 0) return;
    try {
      for (const { svg, ...written } of await engraveAside(missing, limit)) pictures.set(keyOf(written), svg);
      if (keptAt !== undefined) keepStaves(keptAt, pictures);
    } catch (error) {
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
