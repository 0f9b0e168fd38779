/** How long the diagnosis takes: one more finding, and the whole of posterior and next check. */

import { loadContent } from '../../src/content/index.ts';
import {
  addFinding,
  believe,
  type DiagnosisModel,
  type Finding,
  nextChecks,
  type Situation,
} from '../../src/diagnosis/index.ts';
import { makePatient, type Patient } from '../support/patient.ts';
import { median } from './median.ts';

const flows = new URL('../../flows/', import.meta.url).pathname;

export type EngineTimes = {
  /** Milliseconds, medians. */
  readonly oneFinding: number;
  readonly thirtyFindingsAndNextCheck: number;
  readonly findings: number;
};

/** Measures on the whole alto saxophone with thirty findings of a typical run: 26 notes and four checks. */
export function measureEngine(rounds = 60): EngineTimes {
  const { model } = loadContent(flows).instruments.get('alto-saxophone')!;
  const patient = makePatient(model, 'slack@link.fsharp-holds-gsharp');
  const findings = gatherFindings(model, patient);
  const situation: Situation = {
    person: 'director',
    tools: ['screwdriver', 'paper', 'second-person', 'own-mouthpiece'],
    canPlay: true,
    ownerAllows: true,
  };
  const asked = new Set(
    findings.map((finding) => ('check' in finding ? finding.check : `play@${finding.fingering}`)),
  );
  const before = believe(model, findings.slice(0, -1), 'director');
  const one: number[] = [];
  const whole: number[] = [];
  for (let round = 0; round < rounds; round += 1) {
    one.push(timed(() => addFinding(model, before, findings.at(-1)!, 'director')));
    whole.push(timed(() => nextChecks(model, believe(model, findings, 'director'), situation, asked)));
  }
  return { oneFinding: median(one), thirtyFindingsAndNextCheck: median(whole), findings: findings.length };
}

function gatherFindings(model: DiagnosisModel, patient: Patient): Finding[] {
  const notes: Finding[] = model.instrument.playTest.slice(0, 26).map(({ id, note }) => {
    const { answered, sounded } = patient.playNote(id);
    return { note, fingering: id, answered, ...(sounded === undefined ? {} : { sounded }) };
  });
  const checks: Finding[] = model.checks
    .filter(({ group, kind }) => kind !== 'play' && group === 'set-up')
    .slice(0, 4)
    .map(({ id }) => ({ check: id, saw: patient.answerCheck(id) }));
  return [...notes, ...checks];
}

function timed(work: () => unknown): number {
  const begin = performance.now();
  work();
  return performance.now() - begin;
}
