import { describe, expect, test } from 'vitest';
import { assembleContent, loadContent } from '../../src/content/index.ts';
import { warmUp as stepsOf } from '../../src/diagnosis/index.ts';
import { createWarmUp } from '../../src/warm-up.ts';

const { documents } = loadContent(new URL('../../flows', import.meta.url).pathname);

describe('an edition that has been proved before', () => {
  const content = assembleContent(documents, true);

  test('makes the model of an instrument when it is first asked for, and keeps it while it is used', () => {
    const entry = content.instruments.get('alto-saxophone')!;
    expect(entry.model).toBe(entry.model);
    expect(entry.model.instrument).toBe(entry.instrument);
  });

  test('lets go of a model that has not been used for long, and makes one like it anew', () => {
    const entry = content.instruments.get('alto-saxophone')!;
    const first = entry.model;
    for (let other = 0; other < 8; other += 1)
      expect(assembleContent(documents, true).instruments.get('soprano-saxophone')?.model).toBeDefined();
    expect(entry.model).not.toBe(first);
    expect(entry.model.checks).toEqual(first.checks);
  });

  test('is the same as one that is proved now', () => {
    const proved = assembleContent(documents);
    expect(content.edition).toBe(proved.edition);
    expect([...content.instruments.keys()]).toEqual([...proved.instruments.keys()]);
    const checksOf = ({ instruments }: typeof content) =>
      instruments.get('soprano-saxophone')!.model.checks.map(({ id, ask }) => [id, ask]);
    expect(checksOf(content)).toEqual(checksOf(proved));
  });
});

describe('working out ahead', () => {
  const modelOf = (id: string) => assembleContent(documents, true).instruments.get(id)!.model;

  test('goes through the whole of a model once, however often it is used', async () => {
    const model = modelOf('soprano-saxophone');
    const whole = [...stepsOf(modelOf('soprano-saxophone'))].length;
    let steps = 0;
    const ended = Promise.withResolvers<void>();
    const warm = createWarmUp(() => {
      steps += 1;
      if (steps === whole) ended.resolve();
      return false;
    });
    warm(model);
    warm(model);
    await ended.promise;
    warm(model);
    await new Promise((resolve) => setImmediate(resolve));
    expect(steps).toBe(whole);
  });

  test('ends at once when the program is stopping', async () => {
    let asked = 0;
    const stopped = Promise.withResolvers<void>();
    createWarmUp(() => {
      asked += 1;
      stopped.resolve();
      return true;
    })(modelOf('alto-saxophone'));
    await stopped.promise;
    await new Promise((resolve) => setImmediate(resolve));
    expect(asked).toBe(1);
  });
});
