/**
 * What directors and callers say, and what it must be taken for. Written down before the vocabulary was fitted to it; every
 * third phrase of each list was held out of the fitting. There is no source for how people talk: the phrases name what the
 * published cases and the facts on each family name (tests/diagnosis/published), in the words of band rooms.
 */
import { readFileSync } from 'node:fs';
import { readComplaint } from '../../../src/complaint/index.ts';
import type { DiagnosisModel, Finding } from '../../../src/diagnosis/index.ts';
import { instrumentOf, vocabulary } from './reading.ts';

/** `means`: of each row one of the findings must be proposed; `*` stands for any letters. */
export type Meant = {
  readonly on: string;
  readonly says: string;
  readonly means: readonly string[][];
  /** Where somebody has written it. */
  readonly source?: string;
};
export type Harmless = { readonly on: string; readonly says: string };
export type Said = { readonly means: readonly Meant[]; readonly harmless: readonly Harmless[] };

/** The phrases of a family of instruments. */
export function phrasesOf(family: string): Said {
  return JSON.parse(readFileSync(new URL(`../said/${family}.json`, import.meta.url), 'utf8')) as Said;
}

/** Every third phrase is held out of the fitting. */
export function isHeldOut(index: number): boolean {
  return index % 3 === 2;
}

/** Whether what is meant is among the proposals. */
export function isUnderstood({ on, says, means }: Meant): boolean {
  const proposed = proposalsOf(on, says).flatMap(({ findings }) => findings.map(tellFinding));
  return means.every((row) => row.some((one) => proposed.some((finding) => fits(one, finding))));
}

/** Whether nothing that is proposed says that something is wrong. */
export function isFoundHarmless({ on, says }: Harmless): boolean {
  const { model } = instrumentOf(on);
  return proposalsOf(on, says).every(({ findings }) => findings.every((finding) => isGood(model, finding)));
}

function proposalsOf(on: string, says: string) {
  const { instrument, model } = instrumentOf(on);
  return readComplaint(instrument, model, vocabulary, says).proposals;
}

function tellFinding(finding: Finding): string {
  return 'check' in finding ? `${finding.check}=${finding.saw}` : `${finding.note}=${finding.answered}`;
}

function fits(pattern: string, finding: string): boolean {
  const parts = pattern.split('*').map((part) => part.replace(/[.+?^${}()|[\]\\]/g, '\\$&'));
  return new RegExp(`^${parts.join('.*')}$`).test(finding);
}

function isGood(model: DiagnosisModel, finding: Finding): boolean {
  if (!('check' in finding)) return finding.answered === 'speaks';
  const { check, quiet } = model.predictions(model.positionOf(finding.check)!).planned;
  return check.answers[quiet]!.id === finding.saw;
}
