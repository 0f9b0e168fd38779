/** What was told opens no way to a treatment: the real check is asked for as if nothing had been said. */
import fc from 'fast-check';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import {
  decide,
  type Finding,
  isProved,
  type Situation,
  Tool,
  treatmentOf,
} from '../../src/diagnosis/index.ts';
import { advance } from '../../src/runs/advance.ts';
import { beliefOf, openRun, type RunBook } from '../../src/runs/book.ts';
import type { RunState } from '../../src/runs/run-state.ts';
import { makePatient } from '../support/patient.ts';
import { openRunsBench, type RunsBench } from '../support/runs-bench.ts';
import { nextKey, walkToEnd } from '../support/walk.ts';

let bench: RunsBench;
let book: RunBook;
beforeAll(async () => {
  bench = await openRunsBench();
  book = openRun(bench.content, 'alto-saxophone', 'director', bench.staves);
});
afterAll(() => bench.dispose());

const everything = [...Tool.options];
const opening = {
  instrument: 'alto-saxophone',
  person: 'director' as const,
  tools: everything,
  complaint: 'low C is silent',
};
/** With everything to hand, and with nothing: a proof of second rank counts where the first cannot be had. */
const situations: readonly Situation[] = [everything, []].map((tools) => ({
  person: 'director',
  tools,
  canPlay: true,
  ownerAllows: true,
}));

/** Everything of the vocabulary that can be said of a part or of the whole, wherever there is such a check. */
function listTold(): Finding[] {
  const { signs, stories } = bench.content.vocabulary!;
  const kinds = [
    ...signs.flatMap(({ shown, negated }) => [...(shown?.checks ?? []), ...(negated?.checks ?? [])]),
    ...stories.flatMap(({ check, saw, negated }) => [
      { check, saw },
      ...(negated === undefined ? [] : [{ check, saw: negated.saw }]),
    ]),
  ];
  return kinds.flatMap(({ check, saw }) =>
    book.model.checks.filter(({ kind }) => kind === check).map(({ id }) => ({ check: id, saw })),
  );
}

/** A run in which all this was proposed and ticked. */
function tell(findings: readonly Finding[]): RunState {
  const proposals = findings.map((finding, index) => ({
    id: `proposal-${index + 1}`,
    says: 'So it is.',
    findings: [finding],
    isLikely: true,
  }));
  const begun = { ...book.begin(opening), proposals };
  return advance(book, begun, { type: 'proposals', ticked: proposals.map(({ id }) => id) });
}

const isAdjusted = (fault: number): boolean => treatmentOf(book.model, fault)?.adjusts === true;

/** Faults whose treatment adjusts something and that count as proved by these findings. */
function provedBy(findings: readonly Finding[]): number[] {
  return [...book.model.hypotheses.faults.keys()]
    .filter(isAdjusted)
    .filter((fault) => situations.some((situation) => isProved(book.model, fault, findings, situation)));
}

describe('what was told', () => {
  it('proves no fault that is then adjusted, whatever sign of the vocabulary it is', () => {
    const told = listTold();
    expect(told.flatMap((finding) => provedBy(tell([finding]).findings))).toEqual([]);
    // The same signs, really seen, do prove such faults: there is something to hold back.
    expect(told.filter((finding) => provedBy([finding]).length > 0).length).toBeGreaterThan(10);
  });

  it('makes its suspects likelier all the same', () => {
    const floppy: Finding = { check: 'lift@cup.gsharp', saw: 'floppy' };
    const fault = book.model.hypotheses.faultNumber.get('spring-off@cup.gsharp')!;
    const before = beliefOf(book, tell([])).present[fault]!;
    expect(beliefOf(book, tell([floppy])).present[fault]!).toBeGreaterThan(10 * before);
  });

  it('gives way to what is seen when the check is done', () => {
    const told = tell([{ check: 'lift@cup.gsharp', saw: 'floppy' }]);
    const answers = book.model.check('lift@cup.gsharp').answers.map(({ id }) => id);
    const saw = answers.find((id) => id !== 'floppy' && id !== 'tacky')!;
    const corrected = { ...told, findings: [{ check: 'lift@cup.gsharp', saw }] };
    expect(beliefOf(book, corrected)).toEqual(beliefOf(book, { ...corrected, told: [] }));
  });

  it('leads to no treatment that adjusts, whatever is ticked together', () => {
    const notes = book.instrument.fingerings.filter(({ kind }) => kind === 'standard');
    const note = fc
      .tuple(
        fc.constantFrom(...notes),
        fc.constantFrom('silent' as const, 'unsteady' as const, 'speaks' as const),
      )
      .map(([{ id, note: name }, answered]): Finding => ({ note: name, fingering: id, answered }));
    const ticks = fc.array(fc.oneof(fc.constantFrom(...listTold()), note), { maxLength: 12 });
    fc.assert(
      fc.property(ticks, fc.constantFrom(...situations), (findings, situation) => {
        const state = tell(findings);
        expect(provedBy(state.findings)).toEqual([]);
        const verdict = decide(book.model, beliefOf(book, state), state.findings, situation, []);
        const fault = verdict.kind === 'treat' ? book.model.hypotheses.faultNumber.get(verdict.fault)! : null;
        expect(fault !== null && isAdjusted(fault)).toBe(false);
      }),
      { numRuns: 40 },
    );
  }, 60_000);

  it('"flops" does not unlock the hooking of a spring: the lifting is asked for first', async () => {
    const complaint = 'the G sharp key flops';
    const { id } = await bench.runs.open({ ...opening, complaint }, nextKey());
    const { revision, step } = await bench.runs.view(id);
    const ticked = [step.proposals[0]!.id];
    const answer = { type: 'proposals' as const, ticked };
    await bench.runs.answer(id, { revision, key: nextKey(), answer });
    const patient = makePatient(bench.model, 'spring-off@cup.gsharp');
    const { path } = await walkToEnd(bench.runs, id, () => patient, { 'owner-word': 'yes' });
    const treated = path.findIndex((taken) => taken.startsWith('before-treat'));
    const asked = path.findIndex((taken) => /lift@cup\.gsharp: floppy/.test(taken));
    expect(treated).toBeGreaterThan(-1);
    expect(asked).toBeGreaterThan(-1);
    expect(asked).toBeLessThan(treated);
  }, 30_000);
});
