import { describe, expect, it } from 'vitest';
import { believe, suspects } from '../../src/diagnosis/index.ts';
import { leftOut, publishedCases } from './published/cases.ts';
import { model } from './support/alto.ts';

describe('published cases', () => {
  it.each(publishedCases)(
    'have their cause among the first three suspects: $id ($source)',
    ({ findings, causes }) => {
      const first = suspects(model, believe(model, findings, 'director')).faults.slice(0, 3);
      expect(causes).toContain(
        first.map(({ fault }) => fault).find((fault) => causes.includes(fault)) ?? first,
      );
    },
  );

  it('that are left out say why', () => {
    expect(leftOut.every(({ because }) => because.length > 20)).toBe(true);
  });
});
