/** The paper version as pages and API get it, made from the real flows. */
import { expect, it } from 'vitest';
import { loadContent } from '../../src/content/index.ts';
import { createPaperShelf } from '../../src/library/paper-shelf.ts';

const shelf = createPaperShelf(loadContent(new URL('../../flows/', import.meta.url).pathname));
const low = ['fg.Bb3', 'fg.B3', 'fg.Cs4'];
const ask = (person: 'director' | 'helper' | 'desk') =>
  shelf.sheet({ instrument: 'alto-saxophone', person, tools: ['screwdriver', 'paper'], failing: low });

it.each(['director', 'helper'] as const)(
  'gives the %s one row of boxes for a screw, up to its limit',
  async (person) => {
    const { endings } = await ask(person);
    const screws = endings.filter(({ steps }) => steps.some(({ boxes }) => boxes > 0));
    expect(screws.length).toBeGreaterThan(0);
    for (const { steps, adjusts, words, cautions, retest } of screws) {
      expect(steps.map(({ boxes }) => boxes).filter((boxes) => boxes > 0)).toEqual([8]);
      expect([adjusts, cautions.length > 0, retest.length > 0]).toEqual([true, true, true]);
      expect(words.length).toBe(person === 'helper' ? 2 : 1);
      const numbers = steps.map(({ number }) => number);
      for (const { to, number } of steps.flatMap(({ ways }) => ways))
        if (to === 'step') expect(numbers).toContain(number);
    }
  },
);

it('lets the desk adjust nothing', async () => {
  expect((await ask('desk')).endings.filter(({ adjusts }) => adjusts)).toEqual([]);
});

it('names the fingerings that there are when one is unknown', async () => {
  const wish = { instrument: 'alto-saxophone', person: 'director' as const, tools: [], failing: ['fg.Z9'] };
  await expect(shelf.sheet(wish)).rejects.toMatchObject({ code: 'unknown-note' });
});
