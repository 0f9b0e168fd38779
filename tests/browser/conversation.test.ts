/** Two people at one run: somebody who does not understand and cannot do it, and somebody who takes over; without scripts. */
import { afterAll, beforeAll, expect, it } from 'vitest';
import { type BrowserBench, openBrowserBench } from './support/bench.ts';
import { pointerHands } from './support/hands.ts';
import { headline, words, wordsUnder } from './support/reading.ts';
import { makeReadyRun } from './support/ready-run.ts';
import { continueVisit } from './support/visit.ts';

let bench: BrowserBench;
beforeAll(async () => {
  bench = await openBrowserBench();
});
afterAll(() => bench.dispose());

it('leads from a check that is not understood to another one, and to somebody else who goes on', async () => {
  const { address } = bench.server;
  const patient = bench.patient('slack@link.fsharp-holds-gsharp');
  const code = await makeReadyRun(address, patient, { until: 'confirm/tap@link.fsharp-holds-gsharp' });
  const page = await bench.phone({ javaScriptEnabled: false });
  const visit = continueVisit(pointerHands(page), address);
  await page.goto(`${address}/r/${code}`);
  const asked = await headline(page);

  await page.getByRole('link', { name: 'I don’t understand' }).click();
  expect(await headline(page)).toBe(asked);
  expect(await words(page)).toContain('It should stay quite still.');
  expect(await wordsUnder(page, 'Words on this step')).toContain('cup A round metal cap over a hole');
  await page.getByRole('link', { name: 'Back to the step' }).click();
  expect((await visit.run()).step.title).toBe(asked);

  await visit.answer('I can’t do this here, or can’t tell');
  const { step } = await visit.run();
  expect(step.title).not.toBe(asked);
  expect(await page.getByRole('region', { name: 'Your last answer' }).textContent()).toContain(asked);

  await page.getByRole('link', { name: 'Hand over to somebody else' }).click();
  const shown = (await page.locator('.code-large').textContent())?.replace('The code:', '') ?? '';
  const other = await bench.phone({ javaScriptEnabled: false });
  await other.goto(address);
  await other.getByLabel('Come back to a run').fill(shown);
  await other.getByRole('button', { name: 'Open', exact: true }).click();
  await other.waitForURL(new RegExp(`/r/${code}$`));
  const answered = step.choices[0]?.label ?? '';
  await continueVisit(pointerHands(other), address).answer(answered);

  await page.getByRole('link', { name: 'Back to the step' }).click();
  expect(await page.getByRole('region', { name: 'Your last answer' }).textContent()).toContain(answered);
  await page.getByRole('button', { name: 'Take this back' }).click();
  expect(await headline(page)).toBe(step.title);
});
