/** Sends requests over 32 connections and says how many a second were answered. */
import autocannon from 'autocannon';
import type { AnswerBody } from '../../src/runs/schema.ts';

const connections = 32;
const form = { 'content-type': 'application/x-www-form-urlencoded' };

/** Requests a second of one GET address; throws if any reply was not 200. */
export async function loadPage(url: string, seconds: number): Promise<number> {
  const result = await autocannon({ url, connections, duration: seconds });
  if (result.non2xx > 0 || result.errors > 0)
    throw new Error(`${url}: ${result.non2xx} refused, ${result.errors} broken`);
  return result.requests.average;
}

type Client = { id?: string; next?: number; serial?: number };

let serials = 0;

/**
 * Answers a second: each connection opens runs and gives the recorded answers one after another.
 * The openings are durable writes too and are counted with them (one in about forty).
 */
export async function loadAnswers(
  address: string,
  story: readonly AnswerBody[],
  seconds: number,
): Promise<number> {
  const refused: string[] = [];
  const result = await autocannon({
    url: address,
    connections,
    duration: seconds,
    requests: [
      {
        method: 'POST',
        setupRequest: (request, context) => ({ ...request, ...nextRequest(context as Client, story) }),
        onResponse: (status, body, context, headers) => {
          const client = context as Client;
          const location =
            (headers as Record<string, string>).location ?? (headers as Record<string, string>).Location;
          if (status !== 303) refused.push(`${status} ${body.slice(0, 200)}`);
          if (client.id === undefined) client.id = location?.split('/')[2] ?? '';
          else client.next = (client.next ?? 0) + 1;
        },
      },
    ],
  });
  if (refused.length > 0) throw new Error(`${refused.length} answers refused, for example ${refused[0]}`);
  return result.requests.average;
}

function nextRequest(client: Client, story: readonly AnswerBody[]) {
  if (client.id === undefined || client.next === story.length) {
    serials += 1;
    Object.assign(client, { next: 0, serial: serials });
    delete client.id;
    const fields = new URLSearchParams({
      key: `bench-open-${serials}`,
      instrument: 'alto-saxophone',
      person: 'director',
      complaint: '',
    });
    for (const tool of ['screwdriver', 'paper', 'second-person', 'own-mouthpiece'])
      fields.append('tools', tool);
    return { method: 'POST' as const, path: '/runs', headers: form, body: fields.toString() };
  }
  const revision = client.next ?? 0;
  const fields = new URLSearchParams({
    key: `bench-${client.serial}-${revision}`,
    revision: String(revision),
    ...answerFields(story[revision]!),
  });
  return { method: 'POST' as const, path: `/r/${client.id}/answers`, headers: form, body: fields.toString() };
}

function answerFields(answer: AnswerBody): Record<string, string> {
  if (answer.type === 'choice') return { choice: answer.choice };
  if (answer.type === 'proposals') return {};
  const sounded = answer.sounded === undefined ? {} : { [`sounded ${answer.fingering}`]: answer.sounded };
  return { note: `${answer.fingering} ${answer.answered}`, ...sounded };
}
