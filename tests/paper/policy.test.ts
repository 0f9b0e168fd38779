/** The paper version says what the diagnosis says: whoever follows its arrows ends where the program would have led. */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  addFinding,
  answerAsFinding,
  decide,
  type Person,
  proofsOf,
  readFinding,
} from '../../src/diagnosis/index.ts';
import {
  drawGraph,
  type EndPoint,
  endingKey,
  fitGraph,
  growPolicy,
  linesOf,
  openComplaint,
  type Room,
  type SheetGraph,
  type Target,
  usualComplaints,
} from '../../src/paper/index.ts';
import { model } from '../diagnosis/support/alto.ts';

const complaints = usualComplaints(model, 'director', 6);
const tools = ['screwdriver', 'paper'] as const;

/** A question takes four lines and an ending ten; what a check asks stands there once and takes three of its own. */
const room: Room = {
  lines: 90,
  ofQuestion: (check) => ({ own: 4, shared: [{ text: check.id, lines: 3 }] }),
  ofEnding: () => ({ own: 10, shared: [] }),
};

function makeSheet(failing: readonly string[], person: Person) {
  const situation = { person, tools: [...tools], canPlay: true, ownerAllows: true };
  const start = openComplaint(model, person, failing);
  const root = growPolicy(model, { situation, ...start }, 60);
  return { situation, start, root, graph: fitGraph(root, room) };
}

const sheets = complaints.flatMap(({ failing }) =>
  (['director', 'helper'] as const).map((person) =>
    makeSheet(
      failing.map(({ id }) => id),
      person,
    ),
  ),
);

/** Follows the arrows to an ending, choosing among the answers that stay on the sheet. */
function follow({ questions, start }: SheetGraph, choose: (count: number) => number) {
  const path: { check: string; saw: string }[] = [];
  let at = start;
  while (at.to === 'question') {
    const { check, answers } = questions[at.number - 1]!;
    const onward = answers.filter(({ target }) => target.to !== 'off-the-sheet');
    const { id, target } = onward[choose(onward.length)]!;
    path.push({ check: check.id, saw: id });
    at = target;
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

  it('takes no more room than there is, and asks nothing whose every answer leads to the same place', () => {
    for (const { graph } of sheets) {
      expect(linesOf(graph, room)).toBeLessThanOrEqual(room.lines);
      for (const { answers } of graph.questions)
        expect(new Set(answers.map(({ target }) => JSON.stringify(target))).size).toBeGreaterThan(1);
    }
  });

  it('spends its room on endings that name a part or say that nothing is wrong', () => {
    for (const { graph } of sheets)
      for (const { ending } of graph.endings)
        expect(ending.kind === 'healthy' || ending.fault !== null).toBe(true);
  });

  it('leads nearly as many to a part as a sheet without end would', () => {
    const isNamed = ({ ending }: EndPoint) => ending.kind === 'healthy' || ending.fault !== null;
    const sum = (shares: readonly number[]) => shares.reduce((all, share) => all + share, 0);
    const whole = sum(sheets.map(({ root }) => drawGraph(root, isNamed).covered));
    expect(sum(sheets.map(({ graph }) => graph.covered))).toBeGreaterThan(0.8 * whole);
  });

  it('ends, whatever is answered on the way, where the program ends', () => {
    const choices = fc.array(fc.nat(), { minLength: 40, maxLength: 40 });
    const property = fc.property(
      fc.constantFrom(...sheets),
      choices,
      ({ graph, situation, start }, picks) => {
        const { end, path } = follow(graph, (count) => picks.pop()! % count);
        const sawOf = new Map(path.map(({ check, saw }) => [check, saw]));
        let { belief } = start;
        const findings = [...start.findings];
        for (;;) {
          const verdict = decide(model, belief, findings, situation, []);
          if (verdict.kind !== 'check' && verdict.kind !== 'confirm') {
            const number = end.to === 'ending' ? end.number : null;
            const ending = graph.endings.find((one) => one.number === number)?.ending;
            expect(ending && endingKey(ending)).toEqual(endingKey(verdict));
            return;
          }
          const saw = sawOf.get(verdict.check);
          // Where every answer leads to the same place the sheet does not ask: any will do.
          const answer = saw ?? model.check(verdict.check).answers[0]!.id;
          const finding = answerAsFinding(model, model.check(verdict.check), answer);
          belief = addFinding(model, belief, finding, situation.person);
          findings.push(finding);
        }
      },
    );
    fc.assert(property, { numRuns: 60 });
  });

  it('never lets anything be treated whose own proof does not stand on the way to it', () => {
    for (const { graph, start } of sheets) {
      const visit = (target: Target, seen: readonly string[]): void => {
        if (target.to === 'off-the-sheet') return;
        if (target.to === 'question') {
          const { check, answers } = graph.questions[target.number - 1]!;
          for (const { id, target: next } of answers) {
            visit(next, [...seen, readFinding(model, answerAsFinding(model, check, id)).key]);
          }
          return;
        }
        const { ending } = graph.endings.find(({ number }) => number === target.number)!;
        if (ending.kind !== 'treat') return;
        const proofs = proofsOf(model, model.hypotheses.faultNumber.get(ending.fault)!).map(
          ({ position, answer: shown }) => {
            const check = model.checks[position]!;
            return readFinding(model, answerAsFinding(model, check, check.answers[shown]!.id)).key;
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
