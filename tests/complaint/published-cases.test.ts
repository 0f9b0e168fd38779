import { readFileSync } from 'node:fs';
import { describe, expect, test } from 'vitest';
import { believe, type Finding, suspects } from '../../src/diagnosis/index.ts';
import { alto, read } from './support/reading.ts';

type Case = { id: string; says: string; stated: Finding[]; faults: string[]; source: string };

const { cases } = JSON.parse(
  readFileSync(new URL('published/saxophone-cases.json', import.meta.url), 'utf8'),
) as { cases: Case[] };

/** Whether the published cause is among the first three suspects. */
function isNamed({ faults }: Case, findings: readonly Finding[]): boolean {
  const first = suspects(alto.model, believe(alto.model, findings, 'director')).faults.slice(0, 3);
  return first.some(({ fault }) =>
    faults.some((cause) => (cause.endsWith('@*') ? fault.startsWith(cause.slice(0, -1)) : fault === cause)),
  );
}

/** What somebody would confirm who has the instrument of the case in hand: the likely readings. */
function confirmed({ says }: Case): Finding[] {
  return read(says)
    .proposals.filter(({ isLikely }) => isLikely)
    .flatMap(({ findings }) => [...findings]);
}

/** Stated findings take the place of what the words said of the same note or check. */
function withStated(one: Case): Finding[] {
  const subject = (finding: Finding) => ('check' in finding ? finding.check : finding.note);
  const stated = new Set(one.stated.map(subject));
  return [...confirmed(one).filter((finding) => !stated.has(subject(finding))), ...one.stated];
}

const count = (findingsOf: (one: Case) => Finding[]) =>
  cases.filter((one) => isNamed(one, findingsOf(one))).length;

describe('published cases of saxophones, the vocabulary having been fitted to them', () => {
  test('are twenty, each with its source', () => {
    expect(cases).toHaveLength(20);
    expect(cases.filter(({ source }) => source.length < 10)).toEqual([]);
  });

  test('have their cause among the first three by chance in few', () => {
    expect(count(() => [])).toBeLessThanOrEqual(5);
  });

  test('have it there from the words alone in at least eleven', () => {
    expect(count(confirmed)).toBeGreaterThanOrEqual(11);
  });

  test('have it there with what else the source states in at least thirteen', () => {
    expect(count(withStated)).toBeGreaterThanOrEqual(13);
  });
});
