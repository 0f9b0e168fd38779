import { mkdtemp, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, describe, expect, it } from 'vitest';
import { startServer } from '../support/server.ts';

const kills = 6;
const clients = 8;
const folders: string[] = [];
afterAll(() => Promise.all(folders.map((folder) => rm(folder, { recursive: true, force: true }))));

type Sent = { readonly run: string; readonly key: string; revision: number | null };

async function post(address: string, path: string, body: unknown): Promise<Response> {
  return fetch(`${address}${path}`, {
    method: 'POST',
    headers: { 'content-type': 'application/json' },
    body: JSON.stringify(body),
  });
}

/** Opens runs and answers their first steps until the server is gone; writes down what was acknowledged. */
async function answerUntilGone(address: string, client: string, sent: Sent[]): Promise<void> {
  try {
    for (let run = 0; ; run += 1) {
      const opened = await post(address, '/api/runs', {
        instrument: 'alto-saxophone',
        person: 'director',
        key: `${client}-open-${run}`,
      });
      // A run that a busy server refused to open was never acknowledged.
      if (!opened.ok) continue;
      const { id } = (await opened.json()) as { id: string };
      for (const [revision, choice] of ['school', 'yes', 'none', 'fit'].entries()) {
        const wish: Sent = { run: id, key: `${client}-${run}-${revision}`, revision: null };
        sent.push(wish);
        const reply = await post(address, `/api/runs/${id}/answers`, {
          revision,
          key: wish.key,
          answer: { type: 'choice', choice },
        });
        if (reply.ok) wish.revision = revision + 1;
      }
    }
  } catch {
    // The connection broke: the server has been killed, which is what this test is about.
  }
}

/** Waits until so many more answers have been acknowledged: a busy machine takes its time over the first ones. */
async function untilAcknowledged(sent: readonly Sent[], more: number): Promise<void> {
  const count = () => sent.filter(({ revision }) => revision !== null).length;
  const wanted = count() + more;
  while (count() < wanted) await new Promise((resolve) => setTimeout(resolve, 10));
}

describe('the server killed at any moment', () => {
  it('has lost no acknowledged answer, invented none, and goes on with every run', async () => {
    const folder = await mkdtemp(join(tmpdir(), 'quarter-turn-kill-'));
    folders.push(folder);
    const sent: Sent[] = [];
    for (let kill = 0; kill < kills; kill += 1) {
      const server = await startServer({ dataDirectory: folder });
      const work = Array.from({ length: clients }, (_, client) =>
        answerUntilGone(server.address, `kill-${kill}-${client}`, sent),
      );
      await untilAcknowledged(sent, 2);
      await new Promise((resolve) => setTimeout(resolve, 100 + 130 * kill));
      await server.stop('SIGKILL');
      await Promise.all(work);
    }
    const server = await startServer({ dataDirectory: folder });
    const byRun = Map.groupBy(sent, ({ run }) => run);
    for (const [run, wishes] of byRun) {
      const reply = await fetch(`${server.address}/api/runs/${run}`);
      expect(reply.status, await reply.clone().text()).toBe(200);
      const view = (await reply.json()) as { revision: number; conversation: unknown[] };
      const acknowledged = Math.max(0, ...wishes.map(({ revision }) => revision ?? 0));
      expect(view.revision).toBeGreaterThanOrEqual(acknowledged);
      expect(view.revision).toBeLessThanOrEqual(wishes.length);
      expect(view.conversation).toHaveLength(view.revision);
    }
    expect(sent.filter(({ revision }) => revision !== null).length).toBeGreaterThan(kills);
    await server.stop();
  });

  it('takes a repeated answer once when the first acknowledgement was lost', async () => {
    const folder = await mkdtemp(join(tmpdir(), 'quarter-turn-repeat-'));
    folders.push(folder);
    const first = await startServer({ dataDirectory: folder });
    const opening = { instrument: 'alto-saxophone', person: 'helper', key: 'repeat-opening' };
    const { id } = (await (await post(first.address, '/api/runs', opening)).json()) as { id: string };
    const wish = { revision: 0, key: 'repeat-answer-0', answer: { type: 'choice', choice: 'school' } };
    await post(first.address, `/api/runs/${id}/answers`, wish);
    await first.stop('SIGKILL');
    const second = await startServer({ dataDirectory: folder });
    expect((await post(second.address, `/api/runs/${id}/answers`, wish)).ok).toBe(true);
    const view = (await (await fetch(`${second.address}/api/runs/${id}`)).json()) as { revision: number };
    expect(view.revision).toBe(1);
    await second.stop();
  });
});

describe('the server stopped with SIGTERM', () => {
  it('answers what it has taken, ends by itself, and says nothing of a failure', async () => {
    const server = await startServer();
    const sent: Sent[] = [];
    const work = Array.from({ length: 4 }, (_, client) =>
      answerUntilGone(server.address, `term-${client}`, sent),
    );
    await untilAcknowledged(sent, 2);
    await new Promise((resolve) => setTimeout(resolve, 200));
    expect(await server.stop('SIGTERM')).toBe(0);
    await Promise.all(work);
    expect(server.output()).not.toMatch(/error/i);
    const again = await startServer({ dataDirectory: server.dataDirectory });
    const last = sent.findLast(({ revision }) => revision !== null);
    const view = (await (await fetch(`${again.address}/api/runs/${last?.run}`)).json()) as {
      revision: number;
    };
    expect(last?.revision).toBeGreaterThanOrEqual(1);
    expect(view.revision).toBeGreaterThanOrEqual(last?.revision ?? Number.NaN);
    await again.dispose();
  });
});

describe('the server started wrongly', () => {
  it('says in one sentence that the port is taken', async () => {
    const server = await startServer();
    const port = new URL(server.address).port;
    await expect(startServer({ environment: { PORT: port } })).rejects.toThrow(
      /Another program already uses this port/,
    );
    await server.dispose();
  });

  it('says in one sentence which variable is wrong', async () => {
    await expect(startServer({ environment: { PORT: 'three' } })).rejects.toThrow(
      /PORT must be a whole number/,
    );
  });
});
