/** `npm run screenshots`: drives an invented run in the real program and takes the pictures of the README. */
import { mkdir } from 'node:fs/promises';
import type { Page } from 'playwright-core';
import { loadContent } from '../../src/content/index.ts';
import type { AnswerBody } from '../../src/runs/schema.ts';
import type { RunView } from '../../src/runs/view.ts';
import { makePatient } from '../support/patient.ts';
import { flowsFolder } from '../support/runs-bench.ts';
import { startServer } from '../support/server.ts';
import { launchBrowser, openPhone } from './support/browser.ts';

const folder = new URL('./pictures/', import.meta.url).pathname;
const fault = 'slack@link.fsharp-holds-gsharp';
const tools = ['screwdriver', 'paper', 'second-person', 'own-mouthpiece'];

/** Which steps are pictured, and what of them is brought to the top of the screen. */
const pictured: Readonly<Record<string, { name: string; from: string }>> = {
  'play-test': { name: 'play-test', from: '.note-group' },
  'procedure.turn-screw.turn-quarter': { name: 'quarter-turn', from: 'h1' },
  mended: { name: 'outcome', from: 'h1' },
};

const model = loadContent(flowsFolder).instruments.get('alto-saxophone')!.model;
const server = await startServer();
const browser = await launchBrowser();
const page = await openPhone(browser, { deviceScaleFactor: 1.5 });
await mkdir(folder, { recursive: true });

async function call<T>(path: string, body?: unknown): Promise<T> {
  const headers = { 'content-type': 'application/json' };
  const request = body === undefined ? {} : { method: 'POST', headers, body: JSON.stringify(body) };
  const reply = await fetch(`${server.address}/api${path}`, request);
  return (await reply.json()) as T;
}

async function picture(view: RunView, shown: Page): Promise<void> {
  const wanted = pictured[view.step.id];
  if (wanted === undefined) return;
  await shown.goto(`${server.address}/r/${view.id}`);
  await shown.locator(wanted.from).first().scrollIntoViewIfNeeded();
  await shown
    .locator(wanted.from)
    .first()
    .evaluate((element) => element.scrollIntoView({ block: 'start' }));
  await shown.screenshot({ path: `${folder}${wanted.name}.png` });
  console.log(`took ${wanted.name}.png`);
}

/** The screw is right after the third turn; before that the fault is there. */
let turns = 0;
function answerTo({ step }: RunView): AnswerBody {
  const patient = makePatient(model, turns < 3 ? fault : null);
  const waiting = step.notes.find((row) => row.answered === null && row.group === 'first');
  if (waiting !== undefined) return patient.playNote(waiting.fingering);
  const check = step.id.split('/')[1];
  if (check !== undefined) return { type: 'choice', choice: patient.answerCheck(check) };
  if (step.id === 'procedure.turn-screw.test') {
    turns += 1;
    return { type: 'choice', choice: ['better', 'trace', 'gone'][turns - 1] ?? 'gone' };
  }
  return { type: 'choice', choice: step.choices[0]?.id ?? '' };
}

const opening = {
  instrument: 'alto-saxophone',
  person: 'director',
  tools,
  complaint: 'invented: the low notes do not come',
  key: 'screenshots',
};
const { id } = await call<{ id: string }>('/runs', opening);
for (;;) {
  const view = await call<RunView>(`/runs/${id}`);
  const isPictured =
    view.step.kind !== 'notes' || view.step.notes.filter(({ answered }) => answered !== null).length === 2;
  if (isPictured) await picture(view, page);
  if (view.step.kind === 'outcome') break;
  await call(`/runs/${id}/answers`, {
    revision: view.revision,
    key: `screenshot-${view.revision}`,
    answer: answerTo(view),
  });
}
await browser.close();
await server.dispose();
