/** Which findings a "Why?" is about, what is believed after them, and what was believed before the last of them. */
import {
  type Belief,
  COULD_NOT_TELL,
  type Finding,
  suspects,
  type TreatedFault,
} from '../diagnosis/index.ts';
import { believeCached } from './belief-cache.ts';
import { type RunBook, treatedFaults } from './book.ts';
import { failedNotes, isNote } from './findings.ts';
import { noteAnswerLabel } from './labels.ts';
import { fingeringName, playersName } from './note-names.ts';
import { evidenceOf, type RunState } from './run-state.ts';
import type { WhyView } from './why-schema.ts';

export type WhyCase = {
  readonly moment: WhyView['moment'];
  readonly findings: readonly Finding[];
  readonly treated: readonly TreatedFault[];
  readonly belief: Belief;
  /** Null while nothing has been found. */
  readonly before: { readonly belief: Belief; readonly last: NonNullable<WhyView['last']> } | null;
};

/**
 * The case that a run's "Why?" explains. An instrument that was mended is explained as it was before: afterwards there is
 * nothing left to explain, unless some fault leads now. Until something has been played since a treatment, the treatment is the last thing that told
 * anything.
 */
export function caseOf(book: RunBook, state: RunState): WhyCase {
  const treated = treatedFaults(state);
  const treatment = state.past.at(-1);
  const step = book.content.flow.step(state.flow);
  const isBatch = step.kind !== 'notes';
  const now = openCase(book, { moment: 'now', findings: evidenceOf(state), treated, isBatch });
  if (treatment === undefined) return now;
  const earlier = treated.slice(
    0,
    treated.findLastIndex(({ fault }) => fault === treatment.fault),
  );
  if (step.kind === 'outcome' && failedNotes(state.findings).length === 0 && !isFaultLeading(book, now)) {
    const { findings } = treatment;
    return openCase(book, { moment: 'before-treatment', findings, treated: earlier, isBatch });
  }
  const told = new Set(treatment.findings.map((finding) => JSON.stringify(finding)));
  if (state.findings.some((finding) => !told.has(JSON.stringify(finding)))) return now;
  return {
    ...now,
    before: {
      belief: believeCached(book.model, treatment.findings, book.person, earlier),
      last: { kind: 'treatment', ...sayTreatment(book, treatment.fault) },
    },
  };
}

function isFaultLeading({ model }: RunBook, { belief }: WhyCase): boolean {
  const { faults, healthy } = suspects(model, belief);
  return (faults[0]?.probability ?? 0) > healthy;
}

/** `isBatch`: notes that were played one after the other count as one answer, as they came from one page. */
type Opened = Pick<WhyCase, 'moment' | 'findings' | 'treated'> & { readonly isBatch: boolean };

function openCase(book: RunBook, { moment, findings, treated, isBatch }: Opened): WhyCase {
  const { model, person } = book;
  const last = lastAnswer(findings, isBatch);
  const earlier = findings.slice(0, findings.length - last.length);
  return {
    moment,
    findings,
    treated,
    belief: believeCached(model, findings, person, treated),
    before:
      last.length === 0
        ? null
        : { belief: believeCached(model, earlier, person, treated), last: sayLast(book, last) },
  };
}

function lastAnswer(findings: readonly Finding[], isBatch: boolean): readonly Finding[] {
  const lastCheck = findings.findLastIndex((finding) => !isNote(finding));
  const notes = findings.slice(lastCheck + 1);
  return isBatch && notes.length > 1 ? notes : findings.slice(-1);
}

function sayLast(book: RunBook, last: readonly Finding[]): NonNullable<WhyView['last']> {
  const [only] = last;
  if (only !== undefined && last.length === 1) return { kind: 'answer', ...sayAnswer(book, only) };
  const failed = failedNotes(last).length;
  const spoke = last.filter((finding) => isNote(finding) && finding.answered === 'speaks').length;
  return {
    kind: 'notes',
    asked: `your answers on ${last.length} notes`,
    answered: failed + spoke === 0 ? 'none could be told' : `${failed} failed, ${spoke} spoke`,
  };
}

function sayTreatment({ instrument }: RunBook, fault: string): { asked: string; answered: string } {
  return { asked: instrument.part(instrument.fault(fault).place).name, answered: 'treated' };
}

function sayAnswer(book: RunBook, finding: Finding): { asked: string; answered: string } {
  if (isNote(finding)) {
    const { instrument } = book;
    const { note, fingering } = finding;
    const asked =
      fingering === undefined
        ? playersName(instrument, note)
        : fingeringName(instrument, instrument.fingering(fingering));
    return { asked, answered: sayHeard(book, finding) };
  }
  const { title, answers } = book.model.check(finding.check);
  const label = answers.find(({ id }) => id === finding.saw)?.label;
  return {
    asked: title,
    answered: label ?? (finding.saw === COULD_NOT_TELL ? 'could not tell' : finding.saw),
  };
}

/** What was heard of a note, in words: "silent", "another note: low D". */
export function sayHeard(
  { instrument }: RunBook,
  { answered, sounded }: Pick<Extract<Finding, { note: string }>, 'answered' | 'sounded'>,
): string {
  const label = noteAnswerLabel(answered);
  return sounded === undefined ? label : `${label}: ${playersName(instrument, sounded)}`;
}
