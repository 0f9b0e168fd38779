/** The usual complaints: which notes fail together, and how often, worked out from every fault of the list. */
import {
  addFinding,
  type Belief,
  believe,
  COULD_NOT_TELL,
  type DiagnosisModel,
  type Finding,
  type Person,
  playCheckId,
  playTest,
} from '../diagnosis/index.ts';
import { type Fingering, midi, predictNote } from '../mechanism/index.ts';

/** One complaint: the fingerings that fail, the lowest note first. */
export type Complaint = {
  readonly failing: readonly Fingering[];
  /** Share of instruments with a single fault of the list on which just these fail. */
  readonly share: number;
};

/**
 * The complaints that single faults lead to, the most frequent first. One in which no note fails is none.
 * @param most so many at most
 */
export function usualComplaints(model: DiagnosisModel, person: Person, most: number): Complaint[] {
  const { hypotheses, instrument } = model;
  const played = playTest(model, person).first;
  const shares = new Map<string, { failing: Fingering[]; share: number }>();
  let all = 0;
  for (let single = 0; single < hypotheses.firstPair; single += 1) {
    const placed = hypotheses.placed[single]!;
    if (placed.length === 0) continue;
    const share = Math.exp(hypotheses.logPrior[single]!);
    all += share;
    const failing = inOrder(
      played.filter((fingering) => {
        const { degree, sounded } = predictNote(instrument, fingering, placed);
        return degree !== 'none' || sounded !== null;
      }),
    );
    if (failing.length === 0) continue;
    const key = failing.map(({ id }) => id).join(' ');
    const known = shares.get(key) ?? { failing, share: 0 };
    known.share += share;
    shares.set(key, known);
  }
  return [...shares.values()]
    .sort((one, other) => other.share - one.share)
    .slice(0, most)
    .map(({ failing, share }) => ({ failing, share: share / all }));
}

/** Fingerings by the note that they are for, the lowest first. */
export function inOrder(fingerings: readonly Fingering[]): Fingering[] {
  return [...fingerings].sort((one, other) => midi(one.note) - midi(other.note));
}

/** A complaint as findings of the play test, and what is believed after it. */
export type Opening = {
  readonly played: readonly Fingering[];
  readonly findings: readonly Finding[];
  readonly belief: Belief;
};

/**
 * The play test of a complaint: its first notes and the failing ones, in the order in which they are played. The notes
 * that do not fail speak, and no other note is played. How a failing note fails is not part of a complaint, so it fails in the way that is likeliest
 * after the notes before it.
 * @param failing ids of fingerings. @throws RangeError for an unknown fingering.
 */
export function openComplaint(model: DiagnosisModel, person: Person, failing: readonly string[]): Opening {
  const { first } = playTest(model, person);
  const others = failing
    .map((id) => model.instrument.fingering(id))
    .filter((fingering) => !first.includes(fingering));
  const played = [...first, ...inOrder(others)];
  const findings: Finding[] = played
    .filter(({ id }) => !failing.includes(id))
    .map((fingering) => ({ note: fingering.note, fingering: fingering.id, answered: 'speaks' }));
  let belief = believe(model, findings, person);
  for (const fingering of played.filter(({ id }) => failing.includes(id))) {
    const ways = (['unsteady', 'silent', 'wrong'] as const).map((answered) => {
      const finding: Finding = { note: fingering.note, fingering: fingering.id, answered };
      return { finding, belief: addFinding(model, belief, finding, person) };
    });
    const likeliest = ways.reduce((best, way) =>
      way.belief.logEvidence > best.belief.logEvidence ? way : best,
    );
    findings.push(likeliest.finding);
    belief = likeliest.belief;
  }
  const order = new Map(played.map(({ id }, index) => [playCheckId(id), index]));
  findings.sort((one, other) => placeIn(order, one) - placeIn(order, other));
  return { played, findings: [...findings, ...notAskedFor(model, order)], belief };
}

/**
 * All other notes, as not told: on paper every note stands in the one table at the beginning. A note asked for by itself
 * takes a box with four ways out, and mostly leads back to the same questions.
 */
function notAskedFor(model: DiagnosisModel, played: ReadonlyMap<string, number>): Finding[] {
  return model.checks
    .filter(({ kind, id }) => kind === 'play' && !played.has(id))
    .map(({ id }) => ({ check: id, saw: COULD_NOT_TELL }));
}

function placeIn(order: ReadonlyMap<string, number>, finding: Finding): number {
  return 'fingering' in finding ? (order.get(playCheckId(finding.fingering!)) ?? 0) : 0;
}
