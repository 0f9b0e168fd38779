import { describe, expect, it } from 'vitest';
import { loadContent } from '../../src/content/index.ts';
import { believe, suspects } from '../../src/diagnosis/index.ts';
import { bassoonCases, leftOutDoubleReeds, oboeCases } from './published/double-reed-cases.ts';

const { instruments } = loadContent(new URL('../../flows', import.meta.url).pathname);

describe.each([
  ['oboe', oboeCases],
  ['bassoon', bassoonCases],
])('published cases of the %s', (instrument, cases) => {
  const { model } = instruments.get(instrument)!;

  it.each(cases)('have their cause among the first three suspects: $id ($source)', ({ findings, causes }) => {
    const first = suspects(model, believe(model, findings, 'director')).faults.slice(0, 3);
    expect(
      first.some(({ fault }) => causes.includes(fault)),
      first.map(({ fault }) => fault).join(),
    ).toBe(true);
  });
});

it('says of every published case that is left out why', () => {
  expect(leftOutDoubleReeds.every(({ because }) => because.length > 20)).toBe(true);
});
