/** A band room full of trouble: for each instrument under flows/ one person, one fault and one complaint. */
import type { Content, InstrumentContent } from '../../../src/content/index.ts';
import { type DiagnosisModel, describeSuspect, type Person, proofsOf } from '../../../src/diagnosis/index.ts';
import { fillIn, sayNote } from '../../../src/diagnosis/wording.ts';
import { listInstruments } from '../../../src/library/instrument-choice.ts';
import { makePatient, type Patient } from '../../support/patient.ts';

export type Trouble = {
  readonly id: string;
  /** The instrument as the start page calls it. */
  readonly name: string;
  readonly person: Person;
  readonly fault: string;
  /** The fault as the outcome calls it. */
  readonly title: string;
  readonly complaint: string;
  readonly sick: Patient;
  readonly well: Patient;
};

const persons = ['director', 'helper', 'desk'] as const;
/** Somebody complains of so many notes at once; a figure of ours. */
const complainedOf = 3;

/**
 * One trouble for every instrument, in the order of the start page. Each has the likeliest fault of a kind that no
 * instrument before it had, so that together they have as many kinds as they can; the three persons take turns.
 */
export function listTroubles(content: Content): Trouble[] {
  const taken = new Set<string>();
  return listInstruments(content).map(({ id, name }, index) => {
    const entry = content.instruments.get(id)!;
    const { model } = entry;
    const number = likeliestFault(model, taken);
    const { id: fault, kind } = model.hypotheses.faults[number]!;
    taken.add(kind);
    const person = persons[index % persons.length]!;
    const sick = makePatient(model, fault, 'moderate', person);
    return {
      id,
      name,
      person,
      fault,
      title: describeSuspect(model, fault).title,
      complaint: complain(content, entry, number, sick),
      sick,
      well: makePatient(model, null, 'moderate', person),
    };
  });
}

/** The number of the likeliest fault, of a kind that is not among the `taken` ones as long as there is one. */
function likeliestFault({ hypotheses }: DiagnosisModel, taken: ReadonlySet<string>): number {
  const { faults, logPrior, middle } = hypotheses;
  const fresh = [...faults.keys()].filter((number) => !taken.has(faults[number]!.kind));
  const among = fresh.length > 0 ? fresh : [...faults.keys()];
  return among.reduce((best, number) =>
    logPrior[middle[number]!]! > logPrior[middle[best]!]! ? number : best,
  );
}

/**
 * What somebody says of a fault, in the sentences that the program has for what people say: what is seen at the part, else
 * which notes fail and how, else what happened, else what the fault is called.
 */
function complain(
  { vocabulary }: Content,
  { instrument, model }: InstrumentContent,
  fault: number,
  patient: Patient,
): string {
  const { signs, stories, sentences } = vocabulary!;
  const { place } = model.hypotheses.faults[fault]!;
  const proofs = proofsOf(model, fault).map(({ position, answer }) => {
    const { kind, answers } = model.checks[position]!;
    return { check: kind, saw: answers[answer]!.id };
  });
  const proves = (told: { check: string; saw: string }): boolean =>
    proofs.some(({ check, saw }) => told.check === check && told.saw === saw);
  const sign = signs.flatMap(({ shown }) => shown ?? []).find(({ checks }) => checks.some(proves));
  if (sign !== undefined) return fillIn(sign.says, { place: instrument.part(place).name });
  const failing = instrument.playTest
    .map(({ id, note }) => ({ note, answered: patient.playNote(id).answered }))
    .filter(({ answered }) => answered !== 'speaks');
  const worst = failing[0]?.answered;
  if (worst !== undefined && worst !== 'speaks' && worst !== 'could-not-tell') {
    const alike = failing.filter(({ answered }) => answered === worst).slice(0, complainedOf);
    const names = alike.map(({ note }) => sayNote(instrument, note).replace(/ \(.*/, ''));
    const { one, many } = sentences[worst];
    return fillIn(names.length === 1 ? one : many, { notes: [...new Set(names)].join(' and ') });
  }
  return stories.find(proves)?.says ?? describeSuspect(model, model.hypotheses.faults[fault]!.id).title;
}
