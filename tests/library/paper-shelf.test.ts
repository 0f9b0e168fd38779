/** The paper version as pages and API get it, made from the real flows. */
import { expect, it } from 'vitest';
import { loadContent } from '../../src/content/index.ts';
import { sayChance, type Tool } from '../../src/diagnosis/index.ts';
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

it('sends a helper for the supervisor before anything is adjusted', async () => {
  const { endings } = await ask('helper');
  for (const { words } of endings.filter(({ adjusts }) => adjusts))
    expect(words.some((word) => word.includes('supervisor'))).toBe(true);
});

it('answers others while a sheet is being made', async () => {
  let turns = 0;
  const counting = setInterval(() => (turns += 1));
  await shelf.sheet({ instrument: 'alto-saxophone', person: 'desk', tools: [], failing: ['fg.Bb3'] });
  clearInterval(counting);
  expect(turns).toBeGreaterThan(10);
});

it('asks whose instrument it is, with its answers, and says where each one leads', async () => {
  const { before } = await ask('director');
  const answers = before[0]!.ways.map(({ label, words }) => `${label}${words && ` > ${words}`}`);
  expect(before[0]!.ask).toMatch(/^Whose instrument is it\?/);
  expect(answers).toEqual([
    'The school or the band',
    'The player’s family',
    'It is rented, or under warranty; I am not sure > C',
  ]);
});

it('leads most instruments with a usual complaint to a part, and says how many', async () => {
  const usual = (await shelf.complaints('alto-saxophone', 'director')).slice(0, 6);
  const tools: Tool[] = ['screwdriver', 'paper'];
  const sheets = await Promise.all(
    usual.map(({ failing }) =>
      shelf.sheet({ instrument: 'alto-saxophone', person: 'director', tools, failing: [...failing] }),
    ),
  );
  for (const { covered, coverage, fill } of sheets) {
    expect(coverage).toContain(sayChance(covered).slice(1));
    expect(fill).toBeLessThanOrEqual(1);
  }
  expect(sheets.reduce((sum, { covered }) => sum + covered, 0) / sheets.length).toBeGreaterThan(0.5);
});

it.each(['director', 'helper', 'desk'] as const)('leaves no blank unfilled for the %s', async (person) => {
  expect(JSON.stringify(await ask(person)).includes('{{')).toBe(false);
});

it('lets the desk adjust nothing', async () => {
  expect((await ask('desk')).endings.filter(({ adjusts }) => adjusts)).toEqual([]);
});

it('names the fingerings that there are when one is unknown', async () => {
  const wish = { instrument: 'alto-saxophone', person: 'director' as const, tools: [], failing: ['fg.Z9'] };
  await expect(shelf.sheet(wish)).rejects.toMatchObject({ code: 'unknown-note' });
});
