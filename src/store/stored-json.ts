// The one place where values become stored text and stored text becomes values.
import { StoreDamaged, StoreRefused } from './errors.ts';

/** The JSON text of a value. Throws StoreRefused (`not-json`) for what JSON cannot hold at the top, and for cycles. */
export function writeJson(value: unknown): string {
  let text: string | undefined;
  try {
    text = JSON.stringify(value);
  } catch (cause) {
    throw new StoreRefused('not-json', { cause });
  }
  if (text === undefined) throw new StoreRefused('not-json');
  return text;
}

/** The value of a stored JSON text. Throws StoreDamaged naming the run and the part of it when it cannot be read. */
export function readJson(text: string | null, place: { runId: string; part: string }): unknown {
  if (text === null) throw new StoreDamaged(place);
  try {
    return JSON.parse(text);
  } catch (cause) {
    throw new StoreDamaged(place, { cause });
  }
}
