/** The paper version says what the diagnosis says: whoever follows its arrows ends where the program would have led. */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { addFinding, decide, type Person, proofsOf, readFinding } from '../../src/diagnosis/index.ts';
import {
  drawGraph,
  findingOf,
  growPolicy,
  openComplaint,
  type SheetGraph,
  type Target,
  usualComplaints,
} from '../../src/paper/index.ts';
import { model } from '../diagnosis/support/alto.ts';
import { answer, exactly, hypothesisOf } from '../diagnosis/support/simulation.ts';

function finish<T>(work: Generator<void, T, void>): T {
  for (;;) {
    const { done, value } = work.next();
    if (done === true) return value;
  }
}

const complaints = finish(usualComplaints(model, 'director', 6));
const tools = ['screwdriver', 'paper'] as const;

function makeSheet(failing: readonly string[], person: Person) {
  const situation = { person, tools: [...tools], canPlay: true, ownerAllows: true };
  const start = openComplaint(model, person, failing);
  const graph = drawGraph(finish(growPolicy(model, { situation, ...start }, 40)), 40);
  return { situation, start, graph };
}

const sheets = complaints.flatMap(({ failing }) =>
  (['director', 'helper'] as const).map((person) =>
    makeSheet(
      failing.map(({ id }) => id),
      person,
    ),
  ),
);

/** Follows the arrows; what each question is answered comes from outside. */
function follow(graph: SheetGraph, saw: (check: string) => string): { end: Target; path: string[] } {
  const path: string[] = [];
  let at = graph.start;
  while (at.to === 'question') {
    const { number } = at;
    const question = graph.questions.find((one) => one.number === number)!;
    const seen = saw(question.check.id);
    path.push(`${question.check.id}=${seen}`);
    at = question.answers.find(({ id }) => id === seen)!.target;
  }
  return { end: at, path };
}

describe('a usual complaint', () => {
  it('is one in which something fails, and the most frequent comes first', () => {
    expect(complaints.every(({ failing }) => failing.length > 0)).toBe(true);
    const shares = complaints.map(({ share }) => share);
    expect(shares).toEqual([...shares].sort((one, other) => other - one));
  });
});

describe('a sheet', () => {
  it('leads only to questions and endings that are on it, and always onwards', () => {
    for (const { graph } of sheets) {
      for (const { number, answers } of graph.questions) {
        for (const { target } of answers) {
          if (target.to === 'question') {
            expect(target.number).toBeGreaterThan(number);
            expect(target.number).toBeLessThanOrEqual(graph.questions.length);
          }
          if (target.to === 'ending')
            expect(graph.endings.some((one) => one.number === target.number)).toBe(true);
        }
      }
      expect(graph.covered > 0).toBe(graph.endings.length > 0);
      expect(graph.covered).toBeLessThan(1 + 1e-6);
    }
  });

  it('ends for every patient who is answered exactly where the program would have ended', () => {
    const faults = fc.constantFrom(...model.hypotheses.faults.map(({ id }) => id));
    const property = fc.property(fc.constantFrom(...sheets), faults, ({ graph, situation, start }, fault) => {
      const hypothesis = hypothesisOf(fault);
      const sawOf = (check: string) => {
        const finding = answer(hypothesis, check, exactly);
        return 'check' in finding ? finding.saw : finding.answered;
      };
      const { end } = follow(graph, sawOf);
      if (end.to !== 'ending') return;
      const ending = graph.endings.find(({ number }) => number === end.number)!.ending;
      let { belief } = start;
      const findings = [...start.findings];
      for (let asked = 0; asked < 40; asked += 1) {
        const verdict = decide(model, belief, findings, situation, []);
        if (verdict.kind !== 'check' && verdict.kind !== 'confirm') {
          expect(verdict).toEqual(ending);
          return;
        }
        const finding = findingOf(model, model.check(verdict.check), sawOf(verdict.check));
        belief = addFinding(model, belief, finding, situation.person);
        findings.push(finding);
      }
      throw new Error('the program does not end');
    });
    fc.assert(property, { numRuns: 60 });
  });

  it('never lets anything be treated whose own proof does not stand on the way to it', () => {
    for (const { graph, start } of sheets) {
      const visit = (target: Target, seen: readonly string[]): void => {
        if (target.to === 'off-the-sheet') return;
        if (target.to === 'question') {
          const { check, answers } = graph.questions[target.number - 1]!;
          for (const { id, target: next } of answers) {
            visit(next, [...seen, readFinding(model, findingOf(model, check, id)).key]);
          }
          return;
        }
        const { ending } = graph.endings.find(({ number }) => number === target.number)!;
        if (ending.kind !== 'treat') return;
        const proofs = proofsOf(model, model.hypotheses.faultNumber.get(ending.fault)!).map(
          ({ position, answer: shown }) => {
            const check = model.checks[position]!;
            return readFinding(model, findingOf(model, check, check.answers[shown]!.id)).key;
          },
        );
        expect(proofs.some((proof) => seen.includes(proof))).toBe(true);
      };
      visit(
        graph.start,
        start.findings.map((finding) => readFinding(model, finding).key),
      );
    }
  });
});
