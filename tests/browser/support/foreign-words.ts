/** The words of the trade that belong to other instruments than the one in hand, worked out from what each is made of. */
import type { Content, InstrumentContent } from '../../../src/content/index.ts';
import { describeSuspect } from '../../../src/diagnosis/index.ts';

/** Words with a plain meaning beside that of the trade: ears ring, hands touch, pieces meet in a joint. */
const plainWords = ['ring', 'touch', 'lock', 'joint', 'rod', 'leaking', 'fingering'];

/**
 * What is foreign to each instrument. A word of the trade (flows/words) is its own where a part of it is called so, or where
 * its faults or its family are told with it; so is what instruments of its family are called. Foreign is what parts of
 * other families are called, and those families, as far as it is not its own. The longest word at a place counts, so that a
 * "water key" is no key.
 *
 * @param content everything under flows/
 * @returns for the id of an instrument, what finds the foreign words in a text, as often as they stand there
 */
export function sortForeignWords(content: Content): (id: string) => (text: string) => string[] {
  const trade = content.words.flatMap(({ word, forms }) => [word, ...forms]);
  const names = content.vocabulary!.instruments;
  const find = finderOf([...trade, ...names]);
  const entries = [...content.instruments.values()];
  const namesOfFamily = (family: string): string[] => {
    const members = entries.filter(({ instrument }) => instrument.family === family);
    const said = members.flatMap(({ instrument }) => instrument.name.toLowerCase().split(/[^a-z]+/));
    return names.filter((word) => said.some((one) => one.startsWith(word)));
  };
  const things = Map.groupBy(
    entries.flatMap((entry) => {
      const found = new Set(find([...partNames(entry), ...fillsOf(content, entry, isNoSentence)].join('; ')));
      // A part that has a longer name is still one of its sort: an octave pad is a pad.
      return [...found]
        .flatMap((word) => [word, ...trade.filter((short) => endsIn(word, short))])
        .map((word) => ({
          family: entry.instrument.family,
          word: word.toLowerCase(),
        }));
    }),
    ({ family }) => family,
  );
  return (id) => {
    const entry = content.instruments.get(id)!;
    const { family } = entry.instrument;
    const told = [...partNames(entry), ...fillsOf(content, entry), ...faultWords(entry)];
    const own = new Set([...find(told.join('; ')), ...namesOfFamily(family), ...plainWords]);
    const foreign = new Set(
      [...things]
        .filter(([other]) => other !== family)
        .flatMap(([other, found]) => [...found.map(({ word }) => word), ...namesOfFamily(other)])
        .filter((word) => !own.has(word)),
    );
    return (text) => find(text).filter((word) => foreign.has(word));
  };
}

/** Finds these words in a text, the longest at each place; a plural s is understood. */
function finderOf(list: readonly string[]): (text: string) => string[] {
  const longestFirst = [...new Set(list)].toSorted((one, other) => other.length - one.length);
  const pattern = new RegExp(`\\b(?:${longestFirst.join('|')})(?=s?\\b)`, 'gi');
  return (text) => [...text.matchAll(pattern)].map(([word]) => word.toLowerCase());
}

function endsIn(word: string, short: string): boolean {
  return word.endsWith(` ${short.toLowerCase()}`);
}

function partNames({ instrument }: InstrumentContent): string[] {
  const { vents, touches, keys, joints, bores, faults } = instrument;
  const parts = [...vents, ...touches, ...keys, ...joints, ...bores];
  return [...parts.map(({ name }) => name), ...faults.map(({ place }) => instrument.part(place).name)];
}

/** What stands in the blanks of texts for this family. */
function fillsOf(
  { families }: Content,
  { instrument }: InstrumentContent,
  isWanted: (text: string) => boolean = () => true,
): string[] {
  return Object.values(families.get(instrument.family)!.words).filter(isWanted);
}

const isNoSentence = (text: string): boolean => !/[.?]$/.test(text);

function faultWords({ instrument, model }: InstrumentContent): string[] {
  return instrument.faults.flatMap(({ id }) => {
    const { title, means, tellTheBench } = describeSuspect(model, id);
    return [title, means, tellTheBench];
  });
}
