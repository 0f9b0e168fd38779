/** Nobody is asked whether adjusting is allowed where nothing that could follow adjusts anything. */
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { treatmentOf } from '../../src/diagnosis/index.ts';
import { beforehand } from '../../src/library/paper-beginning.ts';
import { openRun } from '../../src/runs/book.ts';
import { openRunsBench, type RunsBench } from '../support/runs-bench.ts';
import { nextKey } from '../support/walk.ts';

let bench: RunsBench;
beforeAll(async () => {
  bench = await openRunsBench();
});
afterAll(() => bench.dispose());

type Opening = Parameters<RunsBench['runs']['open']>[0];
const opening = (instrument: string, tools: Opening['tools']): Opening => ({
  instrument,
  person: 'director',
  tools,
});

/** The step after it has been said that the school owns it. */
async function afterOwner(instrument: string, tools: Opening['tools']): Promise<string> {
  const { id } = await bench.runs.open(opening(instrument, tools), nextKey());
  const { revision } = await bench.runs.view(id);
  const answer = { type: 'choice' as const, choice: 'school' };
  await bench.runs.answer(id, { revision, key: nextKey(), answer });
  return (await bench.runs.view(id)).step.id;
}

/** The tools that treatments of this instrument need which adjust something, one list for each. */
function adjustingTools(instrument: string): (readonly string[])[] {
  const { model } = bench.content.instruments.get(instrument)!;
  return model.hypotheses.faults.flatMap((_, fault) => {
    const treatment = treatmentOf(model, fault);
    return treatment?.adjusts === true ? [treatment.tools] : [];
  });
}

describe('the question whether it may be adjusted', () => {
  it('is asked where something could be adjusted with what is to hand, and nowhere else', async () => {
    const asked: string[] = [];
    for (const instrument of bench.content.instruments.keys()) {
      const isAsked = (await afterOwner(instrument, [])) === 'owner-word';
      expect(isAsked, instrument).toBe(adjustingTools(instrument).some((tools) => tools.length === 0));
      if (isAsked) asked.push(instrument);
    }
    expect(asked).toContain('alto-saxophone');
    for (const instrument of ['oboe', 'bassoon', 'trumpet', 'trombone'])
      expect(asked).not.toContain(instrument);
  });

  it('is left out on paper as well', () => {
    const asks = (instrument: string): string[] =>
      beforehand(
        openRun(bench.content, instrument, 'director', bench.staves),
        opening(instrument, ['screwdriver']),
      ).before.map(({ ask }) => ask);
    const title = 'May it be adjusted here?';
    expect(asks('alto-saxophone').filter((ask) => ask.startsWith(title))).toHaveLength(1);
    expect(asks('oboe').filter((ask) => ask.startsWith(title))).toEqual([]);
    // The boxes before and after it are there.
    expect(asks('oboe')).toHaveLength(asks('alto-saxophone').length - 1);
  });
});
