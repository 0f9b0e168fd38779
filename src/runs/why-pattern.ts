/** The pattern of the notes: what was heard against what each leading suspect predicts. */
import { type Belief, type DiagnosisModel, noteChance, suspects } from '../diagnosis/index.ts';
import {
  type Fingering,
  midi,
  type NoteEffect,
  nextRegister,
  noteName,
  type PlacedFault,
  parseNote,
  predictNote,
} from '../mechanism/index.ts';
import type { RunBook } from './book.ts';
import { isNote, type NoteFinding } from './findings.ts';
import { fingeringName, playersName } from './note-names.ts';
import { sayHeard, type WhyCase } from './why-case.ts';
import type { WhyNote, WhyPattern, WhyPrediction } from './why-schema.ts';

/** So many suspects are set side by side. */
const shown = 4;
/** An answer agrees with a prediction that makes it at least a quarter as likely as the likeliest answer; ours. */
const agreesFrom = 0.25;

type Explanation = { readonly title: string; readonly placed: readonly PlacedFault[] };
type Played = { readonly finding: NoteFinding; readonly note: WhyNote };

/** The notes that were played, from low to high, and what the leading suspects say about each. */
export function viewPattern(book: RunBook, { belief, findings }: WhyCase): WhyPattern {
  const played = playedNotes(book, findings.filter(isNote));
  return {
    notes: played.map(({ note }) => note),
    suspects: leadingExplanations(book.model, belief).map(({ title, placed }) => {
      const predictions = played.map((one) => predictionOf(book, one, placed));
      return {
        faults: placed.map(({ fault }) => fault.id),
        title,
        agrees: predictions.filter(({ fits }) => fits === 'agrees').length,
        heard: predictions.filter(({ fits }) => fits !== 'not-heard').length,
        predictions,
      };
    }),
  };
}

function playedNotes(book: RunBook, findings: readonly NoteFinding[]): Played[] {
  const { instrument } = book;
  const fingeringFor = ({ note, fingering }: NoteFinding) =>
    fingering === undefined
      ? instrument.fingerings.find((one) => one.kind === 'standard' && midi(one.note) === midi(note))
      : instrument.fingering(fingering);
  return findings
    .flatMap((finding) => {
      const fingering = fingeringFor(finding);
      return fingering === undefined ? [] : [{ finding, fingering }];
    })
    .toSorted(
      (one, other) =>
        midi(one.fingering.note) - midi(other.fingering.note) ||
        Number(one.fingering.kind !== 'standard') - Number(other.fingering.kind !== 'standard'),
    )
    .map(({ finding, fingering }) => ({
      finding,
      note: {
        fingering: fingering.id,
        note: fingering.note,
        name: fingeringName(instrument, fingering),
        heard: finding.answered,
        sounded: finding.sounded ?? null,
        words: sayHeard(book, finding),
      },
    }));
}

/**
 * The leading suspects, each alone. Two faults at once, or none, stand first among them where they are likelier than
 * any one fault.
 */
function leadingExplanations(model: DiagnosisModel, belief: Belief): Explanation[] {
  const { faults, healthy } = suspects(model, belief);
  const alone = faults.map(({ fault, title }) => ({ title, placed: likeliestAlone(model, belief, fault) }));
  const together = likeliestPair(model, belief);
  const first: Explanation[] = [];
  if (together !== null) {
    const titleOf = ({ fault: { id } }: PlacedFault) => faults.find(({ fault }) => fault === id)?.title ?? id;
    first.push({ title: `Both at once: ${together.map(titleOf).join('. And: ')}`, placed: together });
  }
  if (healthy > (faults[0]?.probability ?? 0)) first.push({ title: 'Nothing wrong at all', placed: [] });
  return [...first, ...alone].slice(0, shown);
}

/** A fault with nothing beside it, as bad as fits the answers best. */
function likeliestAlone(
  { hypotheses }: DiagnosisModel,
  { mass }: Belief,
  faultId: string,
): readonly PlacedFault[] {
  const fault = hypotheses.faultNumber.get(faultId);
  if (fault === undefined) throw new RangeError(`This instrument has no fault "${faultId}"`);
  let best = hypotheses.middle[fault] ?? 0;
  for (const hypothesis of hypotheses.having[fault] ?? []) {
    if (hypothesis < hypotheses.firstPair && (mass[hypothesis] ?? 0) > (mass[best] ?? 0)) best = hypothesis;
  }
  return hypotheses.placed[best] ?? [];
}

/** The two faults that are there at once, if that is the likeliest of all. */
function likeliestPair({ hypotheses }: DiagnosisModel, { mass }: Belief): readonly PlacedFault[] | null {
  const likeliest = mass.indexOf(Math.max(...mass));
  return likeliest < hypotheses.firstPair ? null : (hypotheses.placed[likeliest] ?? null);
}

function predictionOf(
  book: RunBook,
  { finding, note }: Played,
  placed: readonly PlacedFault[],
): WhyPrediction {
  const { instrument } = book;
  const effect = predictNote(instrument, instrument.fingering(note.fingering), placed);
  const sounded = effect.sounded === null ? null : noteName(effect.sounded);
  const answers = sounded === null ? degreeAnswers[effect.degree] : 'another-note';
  return {
    answers,
    jumpsUp: sounded === null && effect.octaveUp,
    sounded,
    words:
      sounded === null
        ? `${answerWords[answers]}${effect.octaveUp ? ' or jumps up' : ''}`
        : `${answerWords[answers]}: ${playersName(instrument, sounded)}`,
    fits: fitOf(book, effect, finding, instrument.fingering(note.fingering)),
  };
}

const degreeAnswers = {
  none: 'speaks',
  slight: 'suffers-a-little',
  clear: 'suffers',
  severe: 'fails',
} as const satisfies Record<NoteEffect['degree'], WhyPrediction['answers']>;

const answerWords: Readonly<Record<WhyPrediction['answers'], string>> = {
  speaks: 'speaks',
  'suffers-a-little': 'suffers a little',
  suffers: 'suffers',
  fails: 'fails',
  'another-note': 'another note',
};

/** Whether an answer agrees with a prediction, by the same chances that the diagnosis reckons with. */
function fitOf(
  { model, person }: RunBook,
  effect: NoteEffect,
  { answered, sounded }: NoteFinding,
  fingering: Fingering,
): WhyPrediction['fits'] {
  if (answered === 'could-not-tell') return 'not-heard';
  const fingered = midi(fingering.note);
  const above = nextRegister(model.instrument, fingering);
  const chance = (answer: typeof answered, named: number | null = null) =>
    noteChance(model, { effect, fingered, above, person }, answer, named);
  const likeliest = Math.max(chance('speaks'), chance('unsteady'), chance('wrong'), chance('silent'));
  let share = chance(answered) / likeliest;
  const expected = effect.sounded ?? (effect.octaveUp ? above : null);
  const named = sounded === undefined ? null : parseNote(sounded);
  if (answered === 'wrong' && named !== null && expected !== null)
    share *= chance('wrong', named) / chance('wrong', expected);
  return share >= agreesFrom ? 'agrees' : 'disagrees';
}
