/** The vocabulary made ready for one instrument: expressions, part names, note names. Built once and kept. */
import type { Instrument } from '../mechanism/index.ts';
import {
  createExpressions,
  type Expressions,
  joinExpressions,
  type Lookup,
  spellOut,
} from './expressions.ts';
import { isFor, type OfFamilies } from './families.ts';
import { createNoteReader, type NamedNote } from './note-words.ts';
import { createPartNames, type PartNames } from './part-names.ts';
import type { Answer, Level, Mute, Sign, Story, Stretch, Vocabulary } from './schema.ts';
import { stemOf, type Token } from './tokens.ts';

export type DirectionWord = keyof Vocabulary['directions'];

/** Words that only join others together, by the list of the vocabulary that they stand in. */
const PARTICLES = [
  'joins',
  'breaks',
  'prepositions',
  'auxiliaries',
  'negations',
  'nothing',
  'hardly',
  'only',
  'except',
  'all',
  'rest',
  'some',
  'noteNouns',
  'partNouns',
  'instruments',
  'letterCues',
  'plain',
] as const;
export type Particle = (typeof PARTICLES)[number];

/** What an expression means. */
export type Meaning =
  | { readonly sort: 'particle'; readonly particle: Particle }
  | { readonly sort: 'direction'; readonly which: DirectionWord }
  | { readonly sort: 'level'; readonly level: Level }
  | { readonly sort: 'stretch'; readonly stretch: Stretch }
  | { readonly sort: 'answer'; readonly answer: Answer }
  | { readonly sort: 'sign'; readonly sign: Sign }
  | { readonly sort: 'story'; readonly story: Story }
  | { readonly sort: 'mute'; readonly mute: Mute };

export type Lexicon = {
  readonly vocabulary: Vocabulary;
  readonly instrument: Instrument;
  readonly expressions: Lookup<Meaning>;
  readonly parts: PartNames;
  readonly letterWords: ReadonlySet<string>;
  readNote(tokens: readonly Token[], start: number): NamedNote | null;
  /** Whether a word needs no mending. */
  isKnown(token: Token): boolean;
  /** The stems that a misspelt word may have been meant for. */
  readonly stems: readonly string[];
};

const built = new WeakMap<Vocabulary, WeakMap<Instrument, Lexicon>>();

/** The lexicon of an instrument; the same for the same vocabulary. */
export function lexiconOf(instrument: Instrument, vocabulary: Vocabulary): Lexicon {
  const known = built.get(vocabulary) ?? new WeakMap<Instrument, Lexicon>();
  built.set(vocabulary, known);
  const lexicon = known.get(instrument) ?? buildLexicon(instrument, vocabulary);
  known.set(instrument, lexicon);
  return lexicon;
}

function buildLexicon(instrument: Instrument, vocabulary: Vocabulary): Lexicon {
  const names = createExpressions<Meaning>(new Set());
  for (const word of instrument.name.split(/\s+/)) {
    names.add(word, { sort: 'particle', particle: 'instruments' });
  }
  const expressions = joinExpressions(expressionsOf(vocabulary, instrument.family), names);
  const readNote = createNoteReader(vocabulary);
  const parts = createPartNames(instrument, vocabulary, readNote);
  const accidentals = Object.values(vocabulary.accidentals).flat();
  const stems = new Set([
    ...expressions.stems,
    ...parts.words,
    ...vocabulary.skipped.map(stemOf),
    ...accidentals.map(stemOf),
    ...vocabulary.same.flatMap(({ words }) => words.flatMap(spellOut).flat()),
  ]);
  return {
    vocabulary,
    instrument,
    expressions,
    parts,
    letterWords: new Set(vocabulary.letterWords),
    readNote,
    isKnown: (token) => stems.has(token.stem) || readNote([token], 0) !== null,
    stems: [...stems],
  };
}

const ofFamilies = new WeakMap<Vocabulary, Map<string, Expressions<Meaning>>>();

/** The expressions that hold for a family, laid out once for all its instruments. */
function expressionsOf(vocabulary: Vocabulary, family: string): Expressions<Meaning> {
  const known = ofFamilies.get(vocabulary) ?? new Map<string, Expressions<Meaning>>();
  ofFamilies.set(vocabulary, known);
  const found = known.get(family);
  if (found !== undefined) return found;
  const expressions = createExpressions<Meaning>(new Set(vocabulary.skipped.map(stemOf)));
  addMeanings(expressions, vocabulary, family);
  known.set(family, expressions);
  return expressions;
}

function addMeanings({ add }: Expressions<Meaning>, vocabulary: Vocabulary, family: string): void {
  const addAll = (words: readonly string[], meaning: Meaning) => {
    for (const expression of words) add(expression, meaning);
  };
  for (const particle of PARTICLES) {
    if (particle !== 'plain') addAll(vocabulary[particle] ?? [], { sort: 'particle', particle });
  }
  for (const [which, words] of Object.entries(vocabulary.directions)) {
    addAll(words, { sort: 'direction', which: which as DirectionWord });
  }
  const known = <Entry extends OfFamilies>(entries: readonly Entry[]) => entries.filter(isFor(family));
  for (const level of known(vocabulary.levels)) addAll(level.words, { sort: 'level', level });
  for (const stretch of known(vocabulary.stretches)) addAll(stretch.words, { sort: 'stretch', stretch });
  for (const answer of known(vocabulary.answers)) addAll(answer.words, { sort: 'answer', answer });
  for (const sign of known(vocabulary.signs)) addAll(sign.words, { sort: 'sign', sign });
  for (const story of known(vocabulary.stories)) addAll(story.words, { sort: 'story', story });
  for (const mute of known(vocabulary.noEffect)) addAll(mute.words, { sort: 'mute', mute });
  addAll(vocabulary.plain, { sort: 'particle', particle: 'plain' });
}
