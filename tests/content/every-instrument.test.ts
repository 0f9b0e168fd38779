/** What must hold of every instrument under flows/instruments, whichever they are. */
import { describe, expect, test } from 'vitest';
import { loadContent } from '../../src/content/index.ts';
import { type DiagnosisModel, describeSuspect, proofsOf, treatmentOf } from '../../src/diagnosis/index.ts';
import { predict } from '../../src/diagnosis/prediction.ts';
import { staffSteps } from '../../src/engraving/clef.ts';
import { planOf } from '../../src/mechanism/fingering-plan.ts';
import { type Instrument, midi, noteName, planOnTube } from '../../src/mechanism/index.ts';

const content = loadContent(new URL('../../flows', import.meta.url).pathname);

/** Steps from the bottom line of a staff to its middle line; common music notation. */
const MIDDLE_LINE = 4;
/** A part whose middle lay further from it would stand on ledger lines; an octave, a figure of ours. */
const MOST_STEPS_OFF = 7;

/** Faults that change neither a note nor what any check shows, and why that is so. */
const withoutEffect: Readonly<Record<string, string>> = {};

/** The notes that no standard fingering gives, from the bottom of the range to its top. */
function gapsOf({ range, fingerings }: Instrument): string[] {
  const fingered = new Set(
    fingerings.filter(({ kind }) => kind === 'standard').map(({ note }) => midi(note)),
  );
  const [lowest, highest] = [midi(range.lowest), midi(range.highest)];
  return Array.from({ length: highest - lowest + 1 }, (_, index) => lowest + index)
    .filter((note) => !fingered.has(note))
    .map(noteName);
}

/** Fingerings, but for those whose note no single hole sets, whose open hole and register, or partial, give another note. */
function misnamed(instrument: Instrument): string[] {
  const { tube } = instrument;
  if (tube !== null)
    return instrument.fingerings
      .filter((fingering) => {
        const { partial, lowers } = planOnTube(tube, fingering);
        return tube.fundamental - lowers + Math.round(12 * Math.log2(partial ?? 0)) !== midi(fingering.note);
      })
      .map(({ id }) => id);
  return instrument.fingerings
    .filter(({ register }) => register !== 3)
    .filter((fingering) => {
      const { base } = planOf(instrument, fingering);
      return base + (fingering.register - 1) * instrument.overblow !== midi(fingering.note);
    })
    .map(({ id }) => id);
}

/** The hypotheses that a fault alone is there, one for each of its severities. */
function alone({ hypotheses }: DiagnosisModel, fault: number): number[] {
  return [...hypotheses.having[fault]!].filter((one) => one < hypotheses.firstPair);
}

const healthy = 0;

function codeOf(model: DiagnosisModel, position: number, hypothesis: number): number {
  return predict(model.predictor, model.predictions(position), hypothesis);
}

function changesSomething(model: DiagnosisModel, fault: number): boolean {
  const hypotheses = alone(model, fault);
  return model.checks.some((_, position) =>
    hypotheses.some((one) => codeOf(model, position, one) !== codeOf(model, position, healthy)),
  );
}

/** Whether the answer that is taken for a proof is likeliest with the fault, in some severity, and not without it. */
function isProvable(model: DiagnosisModel, fault: number): boolean {
  return proofsOf(model, fault).some(({ position, answer }) => {
    const likeliest = (hypothesis: number) => {
      const code = codeOf(model, position, hypothesis);
      const chances = model.rows(position, 'director')[code]!;
      return chances.indexOf(Math.max(...chances));
    };
    return likeliest(healthy) !== answer && alone(model, fault).some((one) => likeliest(one) === answer);
  });
}

describe.each([...content.instruments.keys()])('%s', (id) => {
  const { instrument, model } = content.instruments.get(id)!;
  const faultsWhere = (isWrong: (fault: number, id: string) => boolean): string[] =>
    model.hypotheses.faults.flatMap((fault, number) => (isWrong(number, fault.id) ? [fault.id] : []));

  test('has a standard fingering for every note of its range', () => {
    expect(gapsOf(instrument)).toEqual([]);
  });

  test('is written in a clef whose staff lies in the middle of its range', () => {
    const { clef, range } = instrument;
    const [lowest, highest] = [staffSteps(clef, range.lowest), staffSteps(clef, range.highest)];
    expect(Math.abs((lowest + highest) / 2 - MIDDLE_LINE)).toBeLessThanOrEqual(MOST_STEPS_OFF);
  });

  test('gives, while nothing is wrong, the note that each fingering is for', () => {
    expect(misnamed(instrument)).toEqual([]);
  });

  test('asks in the play test for notes of its range, for each fingering once', () => {
    const { playTest, range } = instrument;
    expect(new Set(playTest).size).toBe(playTest.length);
    for (const { note } of playTest) {
      expect(midi(note)).toBeGreaterThanOrEqual(midi(range.lowest));
      expect(midi(note)).toBeLessThanOrEqual(midi(range.highest));
    }
  });

  test('shows every fault in a note or a check, or says why not', () => {
    const silent = faultsWhere((fault) => !changesSomething(model, fault));
    expect(silent.filter((fault) => withoutEffect[`${id} ${fault}`] === undefined)).toEqual([]);
  });

  test('has for every fault a check whose answer proves it, and which a good instrument answers otherwise', () => {
    expect(faultsWhere((fault) => !isProvable(model, fault))).toEqual([]);
  });

  test('has for every fault a class of bench work, an urgency and words for the outcome', () => {
    const wordless = faultsWhere((_, fault) => {
      const { title, means, tellTheBench, job, urgency } = describeSuspect(model, fault);
      const isSaid = [title, means, tellTheBench].every((text) => text !== '' && !text.includes('{{'));
      return !(isSaid && content.jobs.has(job) && content.urgencies.has(urgency));
    });
    expect(wordless).toEqual([]);
  });

  test('treats faults only by charts that there are', () => {
    const charts = new Set(content.flow.charts.procedures.map(({ procedure }) => procedure));
    const unknown = faultsWhere((fault) => {
      const treatment = treatmentOf(model, fault);
      return treatment !== null && !charts.has(treatment.procedure);
    });
    expect(unknown).toEqual([]);
  });
});

test('faults that change nothing are listed only while there are such', () => {
  const known = [...content.instruments.entries()].flatMap(([id, { instrument }]) =>
    instrument.faults.map((fault) => `${id} ${fault.id}`),
  );
  expect(Object.keys(withoutEffect).filter((key) => !known.includes(key))).toEqual([]);
});
