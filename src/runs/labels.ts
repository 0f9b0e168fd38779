/** The words of the answers that are the same at every step of their kind. */
import { type Check, COULD_NOT_TELL } from '../diagnosis/index.ts';
import type { FlowStep } from '../flow/index.ts';
import type { ChoiceView, NoteRowView } from './view.ts';

const noteAnswers: Readonly<Record<NonNullable<NoteRowView['answered']>, string>> = {
  speaks: 'speaks',
  unsteady: 'unsteady',
  wrong: 'another note',
  silent: 'silent',
  'could-not-tell': 'could not tell',
};

/** The words for how notes answer, those of them that need a meaning. */
export const noteAnswerWords: readonly string[] = [
  noteAnswers.speaks,
  noteAnswers.unsteady,
  noteAnswers.silent,
];

/** How a note answered, in words. */
export function noteAnswerLabel(answered: NonNullable<NoteRowView['answered']>): string {
  return noteAnswers[answered];
}

/** The answers of a step: those of its check where it asks for one, then "could not tell", then the chart's ways out. */
export function answerLabels(step: FlowStep, check: Check | null): ChoiceView[] {
  if (check === null) return step.choices.map((choice) => ({ ...choice }));
  return [
    ...check.answers.map(({ id, label }) => ({ id, label, tone: 'plain' as const })),
    { id: COULD_NOT_TELL, label: 'I can’t do this here, or can’t tell', tone: 'quiet' },
    ...step.choices.map((choice) => ({ ...choice })),
  ];
}
