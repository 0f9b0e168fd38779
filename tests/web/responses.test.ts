import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { securityHeaders } from '../../src/web/headers.ts';
import { type PaperApp, startPaperApp } from './support/paper-app.ts';

let paper: PaperApp;
let under: string;
let ended: string;

beforeAll(async () => {
  paper = await startPaperApp({
    runs: {
      outcome: async (id) => {
        if (id === 'broken') throw new Error('disk at /srv/secret');
        return paper.runs.view(id).then(({ step }) => step.outcome!);
      },
    },
  });
  under = await paper.openRun();
  ended = await paper.openRun();
  await paper.play(ended, 'not-here');
});

afterAll(() => paper.app.close());

const key = 'responses-key';
const opening = { instrument: 'alto-saxophone', person: 'desk' };

/** Every route with a success and its failures: method, address, what is sent, and the status. */
const responses: [
  method: 'get' | 'post' | 'put' | 'head',
  path: () => string,
  body: string | object | null,
  status: number,
][] = [
  ['get', () => '/', null, 200],
  ['head', () => '/', null, 200],
  ['post', () => '/runs', 'instrument=alto-saxophone&person=desk&key=responses-key', 303],
  ['post', () => '/runs', 'person=desk', 400],
  ['get', () => `/runs?code=${under}`, null, 303],
  ['get', () => '/runs?code=nobody', null, 404],
  ['get', () => `/r/${under}`, null, 200],
  ['get', () => '/r/nobody', null, 404],
  ['post', () => `/r/${under}/answers`, 'revision=7&key=responses-key&choice=yes', 409],
  ['post', () => `/r/${under}/answers`, 'revision=0&key=responses-key&choice=perhaps', 422],
  ['post', () => `/r/${under}/answers`, 'revision=0', 400],
  ['post', () => '/r/nobody/answers', 'revision=0&key=responses-key&choice=yes', 404],
  ['post', () => `/r/${under}/undo`, 'revision=0&key=responses-key', 409],
  ['get', () => `/r/${ended}/change/1`, null, 200],
  ['get', () => `/r/${ended}/change/9`, null, 422],
  ['get', () => `/r/${ended}/change/first`, null, 400],
  ['post', () => `/r/${ended}/changes`, 'revision=0&key=responses-key&entry=1&choice=yes', 409],
  ['get', () => `/r/${ended}/ticket`, null, 200],
  ['get', () => `/r/${ended}/card`, null, 200],
  ['get', () => '/r/broken/ticket', null, 500],
  ['get', () => '/r/broken/card', null, 500],
  ['get', () => `/r/${under}/help`, null, 200],
  ['get', () => `/r/${under}/hand-over`, null, 200],
  ['get', () => '/r/nobody/hand-over', null, 404],
  ['get', () => '/r/nobody/help', null, 404],
  ['get', () => `/r/${under}/why`, null, 200],
  ['get', () => '/r/nobody/why', null, 404],
  ['get', () => '/instruments', null, 200],
  ['get', () => '/instruments/alto-saxophone', null, 200],
  ['get', () => '/instruments/kazoo', null, 404],
  ['get', () => '/paper', null, 200],
  ['get', () => '/paper?instrument=alto-saxophone&person=desk', null, 200],
  ['get', () => '/paper?instrument=nothing&person=nobody', null, 400],
  ['get', () => '/paper/sheet?instrument=alto-saxophone&person=desk&failing=fg.Cs4', null, 200],
  ['get', () => '/paper/sheet?instrument=alto-saxophone&person=desk', null, 400],
  ['get', () => '/paper/sheet?instrument=alto-saxophone&person=desk&code=nobody', null, 404],
  ['get', () => '/api/instruments/alto-saxophone/complaints', null, 200],
  [
    'post',
    () => '/api/paper-sheets',
    { instrument: 'alto-saxophone', person: 'desk', failing: ['fg.Cs4'] },
    200,
  ],
  ['post', () => '/api/paper-sheets', { instrument: 'alto-saxophone', person: 'desk', failing: [] }, 400],
  ['get', () => '/problems', null, 200],
  ['get', () => '/problems/stale-step', null, 200],
  ['get', () => '/problems/nonsense', null, 404],
  ['get', () => '/api', null, 200],
  ['get', () => '/api/openapi.json', null, 200],
  ['get', () => '/api/instruments', null, 200],
  ['get', () => '/api/instruments/alto-saxophone', null, 200],
  ['get', () => '/api/instruments/kazoo', null, 404],
  ['post', () => '/api/diagnoses', { instrument: 'alto-saxophone', findings: [] }, 200],
  ['post', () => '/api/diagnoses', {}, 400],
  ['post', () => '/api/runs', { ...opening, key }, 201],
  ['post', () => '/api/runs', { ...opening, instrument: 'kazoo', key: 'another-key' }, 404],
  ['get', () => `/api/runs/${under}`, null, 200],
  ['get', () => `/api/runs/${under}/why`, null, 200],
  ['get', () => '/api/runs/nobody/why', null, 404],
  [
    'post',
    () => `/api/runs/${under}/answers`,
    { revision: 9, key, answer: { type: 'choice', choice: 'yes' } },
    409,
  ],
  ['post', () => `/api/runs/${under}/undo`, { revision: 0, key }, 409],
  [
    'post',
    () => `/api/runs/${under}/changes`,
    { revision: 0, key, entry: 4, answer: { type: 'choice', choice: 'yes' } },
    422,
  ],
  ['get', () => '/api/runs/broken/outcome', null, 500],
  ['get', () => '/healthz', null, 200],
  ['get', () => '/readyz', null, 200],
  ['get', () => '/assets/old/quarter-turn.css', null, 404],
  ['get', () => '/nothing', null, 404],
  ['get', () => '/%zz', null, 400],
  ['put', () => '/api/runs', opening, 405],
  ['get', () => `/r/${under}/undo`, null, 405],
];

describe('every response', () => {
  test.each(responses)(
    '%s %o %o answers %i with the security headers and without caching',
    async (method, path, body, status) => {
      const request = paper.agent[method](path()).redirects(0);
      if (typeof body === 'string') request.type('form');
      const response = await (body === null ? request : request.send(body));
      expect(response.status).toBe(status);
      expect(response.headers).toMatchObject(securityHeaders);
      expect(response.headers['cache-control']).toBe('no-store');
    },
  );

  test('has a policy that lets no inline script or style and no other site in', () => {
    const policy = securityHeaders['content-security-policy'] ?? '';
    expect(policy).toContain("default-src 'none'");
    expect(policy).not.toContain('unsafe');
    expect(policy).not.toContain('http');
    expect(policy).not.toContain('upgrade-insecure-requests');
  });

  test('is tried here for every route that the server has', async () => {
    const tried = responses.map(([method, path]) => ({ method, path: path().split('?')[0] ?? '' }));
    const untried = listRoutes(paper.app.printRoutes({ commonPrefix: false })).filter(
      ({ method, pattern }) => !tried.some((each) => each.method === method && pattern.test(each.path)),
    );
    expect(untried).toEqual([]);
  });
});

/** Method and address of every route, from the tree that the router prints; HEAD is GET without a body. */
function listRoutes(tree: string): { method: string; pattern: RegExp }[] {
  const above: string[] = [];
  return tree.split('\n').flatMap((line) => {
    const [, indent = '', part = '', methods = ''] = /^([│ ]*)[├└]── (\S+) \((.+)\)$/.exec(line) ?? [];
    if (part === '') return [];
    above.splice(indent.length / 4, above.length, part);
    const pattern = new RegExp(`^${above.join('').replaceAll(/:\w+/g, '[^/]+')}$`);
    return methods
      .split(', ')
      .filter((method) => method !== 'HEAD')
      .map((method) => ({ method: method.toLowerCase(), pattern }));
  });
}
