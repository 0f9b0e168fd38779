/** The real server over paper runs: what the page and API tests drive. */
import type { FastifyBaseLogger, FastifyInstance } from 'fastify';
import supertest from 'supertest';
import { buildApp } from '../../../src/app.ts';
import { readConfig } from '../../../src/config.ts';
import type { Runs } from '../../../src/runs/runs.ts';
import type { AnswerBody } from '../../../src/runs/schema.ts';
import { createPaperLibrary } from './paper-library.ts';
import { createPaperRuns } from './paper-runs.ts';

export type PaperApp = {
  readonly app: FastifyInstance;
  readonly runs: Runs;
  readonly agent: ReturnType<typeof supertest>;
  /** Opens a run as a director and gives its code. */
  openRun(complaint?: string): Promise<string>;
  /** Answers a run's steps one after the other. */
  play(id: string, ...answers: (string | AnswerBody)[]): Promise<void>;
};

type Changes = {
  runs?: Partial<Runs>;
  environment?: Record<string, string>;
  logger?: FastifyBaseLogger;
  isReady?: () => boolean;
};

/**
 * Starts the server without a port.
 * @param changes what differs from the usual: some of the runs' functions, environment variables, a logger
 */
export async function startPaperApp(changes: Changes = {}): Promise<PaperApp> {
  const runs: Runs = { ...createPaperRuns(), ...changes.runs };
  const app = buildApp({
    config: readConfig({ LOG_LEVEL: 'silent', ...changes.environment }),
    runs,
    library: createPaperLibrary(),
    ...(changes.logger === undefined ? {} : { logger: changes.logger }),
    ...(changes.isReady === undefined ? {} : { isReady: changes.isReady }),
  });
  await app.ready();
  let keys = 0;
  const nextKey = () => `key-number-${++keys}`;
  return {
    app,
    runs,
    agent: supertest(app.server),
    async openRun(complaint) {
      const opening = { instrument: 'alto-saxophone', person: 'director' as const, tools: [] };
      const { id } = await runs.open(
        complaint === undefined ? opening : { ...opening, complaint },
        nextKey(),
      );
      return id;
    },
    async play(id, ...answers) {
      for (const given of answers) {
        const { revision } = await runs.view(id);
        const answer: AnswerBody = typeof given === 'string' ? { type: 'choice', choice: given } : given;
        await runs.answer(id, { revision, key: nextKey(), answer });
      }
    },
  };
}

/** The hidden fields of the first form of a page whose action ends so. */
export function readHidden(html: string, action: RegExp): Record<string, string> {
  const form = [...html.matchAll(/<form[^>]*action="([^"]*)"[^>]*>([\s\S]*?)<\/form>/g)].find(([, path]) =>
    action.test(path ?? ''),
  );
  if (form === undefined) throw new Error(`The page has no form with an action like ${action}.`);
  const inputs = (form[2] ?? '').matchAll(/<input type="hidden" name="([^"]*)" value="([^"]*)"/g);
  return Object.fromEntries([...inputs].map(([, name = '', value = '']) => [name, value]));
}
