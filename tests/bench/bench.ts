/** `npm run bench`: how fast the program is, as ratios to a bare server measured in the same run. */
import { mkdtemp, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { startServer } from '../support/server.ts';
import { measureEngine } from './engine.ts';
import { measureLateAnswers } from './late-answers.ts';
import { loadAnswers, loadPage } from './load.ts';
import { median } from './median.ts';
import { measureStore } from './store-throughput.ts';
import { recordStory } from './story.ts';

const rounds = 3;
const seconds = 3;

type Row = { what: string; measured: string; goal: string; isMet: boolean };

async function measureHttp(): Promise<Row[]> {
  const story = await recordStory();
  const hello = await startServer({ program: 'tests/bench/hello.ts' });
  const program = await startServer();
  const runPage = await openRunAtCheck(program.address, story);
  const rates = { hello: [] as number[], page: [] as number[], answer: [] as number[] };
  // The first of each is a warm-up and does not count.
  for (let round = 0; round <= rounds; round += 1) {
    const hellos = await loadPage(hello.address, seconds);
    const pages = await loadPage(`${program.address}${runPage}`, seconds);
    const answers = await loadAnswers(program.address, story, seconds);
    if (round === 0) continue;
    rates.hello.push(hellos);
    rates.page.push(pages / hellos);
    rates.answer.push(answers / hellos);
    console.log(
      `  round ${round}: hello ${hellos.toFixed(0)}/s, step page ${pages.toFixed(0)}/s, durable answer ${answers.toFixed(0)}/s`,
    );
  }
  await Promise.all([hello.dispose(), program.dispose()]);
  const [firstStart, ...laterStarts] = await measureStarts(6);
  return [
    atLeast('a step page, as a share of a bare JSON hello (32 connections)', median(rates.page), 0.25),
    atLeast('a durable answer, as a share of a bare JSON hello (32 connections)', median(rates.answer), 0.12),
    atMost('start to listening, ms (median of later starts)', median(laterStarts), 1000),
    atMost('start to listening, ms (the first, in an empty folder)', firstStart ?? Number.NaN, 1000),
  ];
}

/** Starts in one data folder, the first of which finds it empty. */
async function measureStarts(count: number): Promise<number[]> {
  const folder = await mkdtemp(join(tmpdir(), 'quarter-turn-starts-'));
  const starts: number[] = [];
  for (let start = 0; start < count; start += 1) {
    const server = await startServer({ dataDirectory: folder });
    starts.push(server.startedIn);
    await server.stop();
  }
  await rm(folder, { recursive: true, force: true });
  return starts;
}

/** A run that stands at its first check: a page with a picture and a conversation. */
async function openRunAtCheck(
  address: string,
  story: Awaited<ReturnType<typeof recordStory>>,
): Promise<string> {
  const json = { 'content-type': 'application/json' };
  const opening = {
    instrument: 'alto-saxophone',
    person: 'director',
    tools: ['screwdriver', 'paper', 'second-person', 'own-mouthpiece'],
    key: 'bench-page-0000',
  };
  const opened = await fetch(`${address}/api/runs`, {
    method: 'POST',
    headers: json,
    body: JSON.stringify(opening),
  });
  const { id } = (await opened.json()) as { id: string };
  for (const [revision, answer] of story.entries()) {
    const run = (await (await fetch(`${address}/api/runs/${id}`)).json()) as { step: { id: string } };
    if (run.step.id.startsWith('confirm/')) break;
    const body = JSON.stringify({ revision, key: `bench-page-${revision}`, answer });
    await fetch(`${address}/api/runs/${id}/answers`, { method: 'POST', headers: json, body });
  }
  return `/r/${id}`;
}

function atLeast(what: string, value: number, goal: number): Row {
  return { what, measured: value.toFixed(3), goal: `at least ${goal}`, isMet: value >= goal };
}

function atMost(what: string, value: number, goal: number): Row {
  return { what, measured: value.toFixed(2), goal: `at most ${goal}`, isMet: value <= goal };
}

const engine = measureEngine();
const late = await measureLateAnswers();
const store = await measureStore({ rounds: 3 });
const rows = [
  atMost('one more finding, ms', engine.oneFinding, 1),
  atMost(
    `posterior and next check with ${engine.findings} findings, ms`,
    engine.thirtyFindingsAndNextCheck,
    5,
  ),
  atMost('an answer at step 200, as a multiple of one at step 5', late.late / late.early, 1.2),
  atLeast('shared commits, as a multiple of one commit an answer', store.ratio, 4),
  ...(await measureHttp()),
];
console.table(rows);
