/** The words that a run puts into the blanks of the charts' texts: parts, tests and notes by their names. */
import { describeSuspect, sayList, sayNote } from '../diagnosis/index.ts';
import { type FlowStep, fillTemplate, type RunPlaceholder } from '../flow/index.ts';
import type { Instrument } from '../mechanism/index.ts';
import type { RunBook } from './book.ts';
import { failedNotes } from './findings.ts';
import { oppositeProofOf, proofOf, quietAnswer } from './proof.ts';
import type { RunState } from './run-state.ts';

/** Texts by the names of their blanks: the run's own, and those of the instrument's family. */
export type Words = Readonly<Record<string, string> & Partial<Record<RunPlaceholder, string>>>;

/** Everything that can be named at this point of the run; what has no name is left out. */
export function wordsFor(book: RunBook, state: RunState): Words {
  const { instrument } = book;
  const say = (note: string): string => sayNote(instrument, note);
  const failing = failedNotes(state.findings).map(({ note }) => say(note));
  const retest = state.retest.map((id) => say(instrument.fingering(id).note));
  return {
    ...book.family?.words,
    ...dropEmpty({
      failingNotes: sayList([...new Set(failing)]),
      retestNotes: sayList([...new Set(retest)]),
      mended: sayTreated(book, state),
      ...(state.focus.fault === null ? {} : faultWords(book, state.focus.fault)),
    }),
  };
}

/** The titles of the faults that were treated, each once; before that, of the one in hand. */
function sayTreated({ model }: RunBook, { past, focus }: RunState): string {
  const treated =
    past.length > 0 ? past.map(({ fault }) => fault) : focus.fault === null ? [] : [focus.fault];
  return [...new Set(treated)]
    .map((fault) => lowerFirst(describeSuspect(model, fault).title))
    .join('. And this: ');
}

/** A text with the run's words filled in. */
export function fillWords(text: string, words: Words): string {
  return fillTemplate(text, words);
}

/** The step that a run stands at, its texts chosen by what can be named, and the filling in of the names. */
export function stepInWords(
  book: RunBook,
  state: RunState,
): { step: FlowStep; fill: (text: string) => string } {
  const words = wordsFor(book, state);
  const step = book.content.flow.step(state.flow, (name) => Object.hasOwn(words, name));
  return { step, fill: (text) => fillWords(text, words) };
}

function faultWords(book: RunBook, faultId: string): Partial<Record<RunPlaceholder, string>> {
  const { instrument, model } = book;
  const { place } = instrument.fault(faultId);
  const words = describeSuspect(model, faultId);
  const proof = proofOf(book, faultId);
  return {
    place: instrument.part(place).name,
    fault: lowerFirst(words.title),
    fix: words.means,
    test: proof?.ask ?? '',
    stopSign: proof === null ? '' : (quietAnswer(book, proof)?.label ?? ''),
    tooFarTest: oppositeProofOf(book, faultId)?.ask ?? '',
    ...(instrument.part(place).sort === 'link' ? linkWords(instrument, place) : {}),
  };
}

function linkWords(instrument: Instrument, linkId: string): Partial<Record<RunPlaceholder, string>> {
  const link = instrument.link(linkId);
  const { drivers, targets } = instrument.linkEnds(linkId);
  const driver = drivers[0];
  const target = targets[0];
  const touches =
    driver === undefined
      ? []
      : driver.sort === 'touch'
        ? [driver.id]
        : instrument.touchesOf(driver.id).map(({ touch }) => touch);
  const openers =
    target === undefined ? [] : instrument.touchesOf(target.id).filter(({ action }) => action === 'opens');
  const nameOf = (id: string | undefined): string =>
    id === undefined ? '' : `the ${instrument.part(id).name}`;
  return {
    driver: nameOf(driver?.id),
    driverTouch: nameOf(touches[0]),
    target: nameOf(target?.id),
    opener: nameOf(openers[0]?.touch),
    lookAlike:
      link.adjuster.lookAlike === undefined
        ? ''
        : `the one for “${instrument.link(link.adjuster.lookAlike).name}”`,
    screwWhere: sentence(link.adjuster.text),
  };
}

function sentence(text: string): string {
  const capital = text.charAt(0).toUpperCase() + text.slice(1);
  return /[.!?]$/.test(capital) ? capital : `${capital}.`;
}

/** A title as it stands inside a sentence. One that begins with a note's name, such as "G sharp", keeps its capital. */
export function lowerFirst(title: string): string {
  return /^(The|A|An|Something|Nothing)\b/.test(title)
    ? title.charAt(0).toLowerCase() + title.slice(1)
    : title;
}

function dropEmpty(words: Partial<Record<RunPlaceholder, string>>): Words {
  return Object.fromEntries(Object.entries(words).filter(([, text]) => text !== ''));
}
