import { describe, expect, it } from 'vitest';
import { loadContent } from '../../src/content/index.ts';
import { believe, suspects } from '../../src/diagnosis/index.ts';
import { leftOut, publishedCases } from './published/cases.ts';
import { clarinetCasesLeftOut, publishedClarinetCases } from './published/clarinet-cases.ts';

const { instruments } = loadContent(new URL('../../flows', import.meta.url).pathname);

describe.each([
  ['saxophone', 'alto-saxophone', publishedCases],
  ['clarinet', 'bb-clarinet', publishedClarinetCases],
] as const)('published cases of the %s', (_, instrument, cases) => {
  const { model } = instruments.get(instrument)!;

  it.each(cases)('have their cause among the first three suspects: $id ($source)', ({ findings, causes }) => {
    const first = suspects(model, believe(model, findings, 'director')).faults.slice(0, 3);
    expect(causes).toContain(
      first.map(({ fault }) => fault).find((fault) => causes.includes(fault)) ?? first,
    );
  });
});

describe('published cases that are left out', () => {
  it('say why', () => {
    for (const { because } of [...leftOut, ...clarinetCasesLeftOut])
      expect(because.length).toBeGreaterThan(20);
  });
});
