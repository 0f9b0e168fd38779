/** The trade's words, and finding those that stand on a page. */
import { z } from 'zod';

const Text = z.string().trim().min(1, 'write a text here');

/** One word of the trade, the other forms in which it stands in texts, and its meaning for anybody. */
export const TradeWord = z.strictObject({
  word: Text,
  forms: z.array(Text).default([]),
  /** Only for instruments of these families, and there before one that is for all. */
  families: z.array(Text).min(1).optional(),
  means: Text,
});
export type TradeWord = z.infer<typeof TradeWord>;

/** flows/words.yaml */
export const WordsFile = z.strictObject({
  words: z.array(TradeWord).min(1),
  source: z.array(z.string().min(1)).min(1),
});
export type WordsFile = z.infer<typeof WordsFile>;

/** The words as they are meant with instruments of one family. */
export function tradeWordsOf(words: readonly TradeWord[], family: string): TradeWord[] {
  const fitting = words.filter(({ families }) => families === undefined || families.includes(family));
  const own = new Set(fitting.filter(({ families }) => families !== undefined).map(({ word }) => word));
  return fitting.filter(({ word, families }) => families !== undefined || !own.has(word));
}

/**
 * The words of the trade that stand in these texts, in the order in which they first do. Whole words count, with or
 * without a plural s, in capitals or not.
 */
export function findTradeWords(words: readonly TradeWord[], texts: readonly string[]): TradeWord[] {
  const text = texts.join('\n');
  return words
    .map((entry) => ({ entry, at: placeOf(entry, text) }))
    .filter(({ at }) => at >= 0)
    .sort((one, other) => one.at - other.at)
    .map(({ entry }) => entry);
}

const patterns = new WeakMap<TradeWord, RegExp>();

function placeOf(entry: TradeWord, text: string): number {
  const known =
    patterns.get(entry) ??
    new RegExp(`\\b(?:${[entry.word, ...entry.forms].map(literally).join('|')})s?\\b`, 'i');
  patterns.set(entry, known);
  return text.search(known);
}

const literally = (word: string): string => word.replaceAll(/[.*+?^${}()|[\]\\]/g, '\\$&');
