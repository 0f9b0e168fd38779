import { describe, expect, it } from 'vitest';
import { loadContent } from '../../src/content/index.ts';
import { believe, suspects } from '../../src/diagnosis/index.ts';
import { brassCases, brassCasesLeftOut } from './published/brass-cases.ts';

const { instruments } = loadContent(new URL('../../flows', import.meta.url).pathname);

describe('published cases of brass', () => {
  it.each(brassCases)(
    'have their cause among the first three suspects: $id ($source)',
    ({ instrument, findings, causes }) => {
      const { model } = instruments.get(instrument)!;
      const first = suspects(model, believe(model, findings, 'director')).faults.slice(0, 3);
      expect(causes).toContain(
        first.map(({ fault }) => fault).find((fault) => causes.includes(fault)) ?? first,
      );
    },
  );

  it('that are left out say why', () => {
    expect(brassCasesLeftOut.every(({ because }) => because.length > 20)).toBe(true);
  });
});
