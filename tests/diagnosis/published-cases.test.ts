import { describe, expect, it } from 'vitest';
import { loadContent } from '../../src/content/index.ts';
import { believe, suspects } from '../../src/diagnosis/index.ts';
import { brassCases, brassCasesLeftOut } from './published/brass-cases.ts';
import { leftOut, publishedCases } from './published/cases.ts';
import { clarinetCasesLeftOut, publishedClarinetCases } from './published/clarinet-cases.ts';
import { bassoonCases, leftOutDoubleReeds, oboeCases } from './published/double-reed-cases.ts';
import { fluteCases, fluteCasesLeftOut } from './published/flute-cases.ts';

const { instruments } = loadContent(new URL('../../flows', import.meta.url).pathname);

const of = <Case>(instrument: string, cases: readonly Case[]) => cases.map((one) => ({ ...one, instrument }));

describe.each([
  ['saxophones', of('alto-saxophone', publishedCases)],
  ['clarinets', of('bb-clarinet', publishedClarinetCases)],
  ['flutes', fluteCases],
  ['oboes', of('oboe', oboeCases)],
  ['bassoons', of('bassoon', bassoonCases)],
  ['brass', brassCases],
] as const)('published cases of %s', (_, cases) => {
  it.each(cases)(
    'have their cause among the first three suspects: $id ($source)',
    ({ instrument, findings, causes }) => {
      const { model } = instruments.get(instrument)!;
      const first = suspects(model, believe(model, findings, 'director')).faults.slice(0, 3);
      expect(causes).toContain(
        first.map(({ fault }) => fault).find((fault) => causes.includes(fault)) ?? first,
      );
    },
  );
});

it('says of every published case that is left out why', () => {
  const all = [
    leftOut,
    clarinetCasesLeftOut,
    fluteCasesLeftOut,
    leftOutDoubleReeds,
    brassCasesLeftOut,
  ].flat();
  for (const { because } of all) expect(because.length).toBeGreaterThan(20);
});
