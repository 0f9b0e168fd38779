import type { AddressInfo } from 'node:net';
import { connect } from 'node:net';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { Problem, problemCatalogue } from '../../src/problems.ts';
import { securityHeaders } from '../../src/web/headers.ts';
import { type PaperApp, startPaperApp } from './support/paper-app.ts';

let paper: PaperApp;

beforeAll(async () => {
  paper = await startPaperApp({
    runs: {
      async view(id) {
        if (id === 'full-disk')
          throw new Problem('store-unavailable', 'Nothing was saved. Try again in a moment.');
        throw Object.assign(new Error(`no such table: runs (/srv/band/data/runs.db) select * from runs`), {
          id,
        });
      },
    },
  });
});

afterAll(() => paper.app.close());

describe('a problem document', () => {
  test('has the members of RFC 9457 and an id that is not the run', async () => {
    const { body, headers, status } = await paper.agent.get('/api/instruments/kazoo');
    expect(status).toBe(404);
    expect(headers['content-type']).toBe('application/problem+json; charset=utf-8');
    expect(body).toMatchObject({
      type: '/problems/unknown-instrument',
      title: problemCatalogue['unknown-instrument'].title,
      status: 404,
      known: ['alto-saxophone'],
      errors: [{ pointer: '/id', detail: 'Give one of: alto-saxophone.' }],
    });
    expect(body.detail).toContain('kazoo');
    expect(body.instance).toMatch(/^urn:uuid:[0-9a-f-]{36}$/);
  });

  test('has a type that is the address of a page which explains it', async () => {
    for (const code of Object.keys(problemCatalogue)) {
      const page = await paper.agent.get(`/problems/${code}`);
      expect(page.status).toBe(200);
      expect(page.text).toContain(problemCatalogue[code as keyof typeof problemCatalogue].title);
    }
  });

  test('names each field that does not fit by a JSON pointer', async () => {
    const { body } = await paper.agent.post('/api/diagnoses').send({
      instrument: 'alto-saxophone',
      findings: [{ note: 'C#4', answered: 'loud' }],
      person: 'owner',
      extra: 1,
    });
    expect(body.status).toBe(400);
    expect(body.errors).toEqual(
      expect.arrayContaining([
        {
          pointer: '/findings/0/answered',
          detail: 'Give one of: speaks, unsteady, wrong, silent, could-not-tell.',
        },
        { pointer: '/person', detail: 'Give one of: director, helper, desk.' },
        { pointer: '/extra', detail: 'This field is not known here. Leave it out, or look at the spelling.' },
      ]),
    );
    expect(body.errors).toHaveLength(3);
  });

  test('says when a field is missing', async () => {
    const { body } = await paper.agent.post('/api/runs').send({ person: 'desk' });
    expect(body.errors).toEqual([{ pointer: '/instrument', detail: 'This field is missing.' }]);
  });

  test.each([
    ['{"instrument"', 'application/json', 400, 'bad-request'],
    ['', 'application/json', 400, 'bad-request'],
    ['{"__proto__":{"person":"desk"}}', 'application/json', 400, 'bad-request'],
    ['person=desk', 'application/x-www-form-urlencoded', 415, 'wrong-media-type'],
    ['{}', 'text/plain', 415, 'wrong-media-type'],
    [JSON.stringify({ complaint: 'x'.repeat(70_000) }), 'application/json', 413, 'too-large'],
  ])('refuses the body %.20s as %s with %i', async (text, type, status, code) => {
    const { body, headers } = await paper.agent.post('/api/runs').set('content-type', type).send(text);
    expect(body).toMatchObject({ status, type: `/problems/${code}` });
    expect(headers['content-type']).toContain('application/problem+json');
  });

  test('says which methods an address takes, where it is known', async () => {
    const { body, headers, status } = await paper.agent.delete('/api/instruments');
    expect(status).toBe(405);
    expect(headers.allow).toBe('GET, HEAD');
    expect(body.type).toBe('/problems/wrong-method');
  });

  test('says when to try again where the store does not take answers', async () => {
    const { headers, status } = await paper.agent.get('/api/runs/full-disk');
    expect(status).toBe(503);
    expect(headers['retry-after']).toBe('2');
  });
});

describe('an unexpected error', () => {
  test.each(['text/html', 'application/json'])(
    'says nothing of what happened inside, as %s',
    async (accept) => {
      const { text, status } = await paper.agent.get('/r/some-run').set('accept', accept);
      expect(status).toBe(500);
      expect(text).toContain(problemCatalogue.unexpected.title);
      expect(text).not.toMatch(/select|table|srv|runs\.db|node_modules|\.ts:\d|at \w+ \(/);
    },
  );

  test('gives a number by which it can be found in the log, and the way back to the run', async () => {
    const { text } = await paper.agent.get('/r/some-run').set('accept', 'text/html');
    expect(text).toMatch(/give the number <code>[0-9a-f-]{36}<\/code>/);
    expect(text).toContain('href="/r/some-run"');
  });
});

describe('a page that says what is wrong', () => {
  test('comes to browsers, and to whoever does not say what they take', async () => {
    for (const accept of ['text/html,application/xhtml+xml', '*/*']) {
      const { headers, text } = await paper.agent.get('/nothing').set('accept', accept);
      expect(headers['content-type']).toBe('text/html; charset=utf-8');
      expect(text).toContain('There is no such page here');
    }
  });

  test('offers the start page and the way back to a run by its code', async () => {
    const { text } = await paper.agent.get('/nothing');
    expect(text).toContain('href="/"');
    expect(text).toMatch(/<form method="get" action="\/runs"[\s\S]*name="code"/);
  });

  test('leads back to the run when an address of a run takes no such request', async () => {
    const { text, status, headers } = await paper.agent.get('/r/some-run/answers');
    expect(status).toBe(405);
    expect(headers.allow).toBe('POST');
    expect(text).toContain('href="/r/some-run"');
  });

  test('shows markup in an address as text', async () => {
    const { text } = await paper.agent.get('/r/%3Cscript%3Ealert(1)%3C%2Fscript%3E/answers');
    expect(text).not.toContain('<script>alert');
  });

  test('does not trip over an address that cannot be read', async () => {
    const { status, body } = await paper.agent.get('/r/%zz');
    expect(status).toBe(400);
    expect(body.type).toBe('/problems/bad-request');
    const long = await paper.agent.get(`/r/${'a'.repeat(300)}`);
    expect(long.status).toBe(404);
  });
});

describe('a request that is no request', () => {
  const send = (text: string): Promise<string> =>
    new Promise((resolve, reject) => {
      const { port } = paper.app.server.address() as AddressInfo;
      const socket = connect(port, '127.0.0.1', () => socket.write(text));
      let received = '';
      socket.on('data', (bytes) => {
        received += bytes;
      });
      socket.on('end', () => resolve(received));
      socket.on('error', reject);
    });

  beforeAll(() => paper.app.listen({ port: 0, host: '127.0.0.1' }));

  test.each([
    ['nonsense\r\n\r\n', 400, 'bad-request'],
    [`GET / HTTP/1.1\r\nHost: x\r\nBig: ${'a'.repeat(9000)}\r\n\r\n`, 431, 'headers-too-large'],
    [
      'POST / HTTP/1.1\r\nHost: x\r\nContent-Length: 1\r\nTransfer-Encoding: chunked\r\n\r\n0\r\n\r\n',
      400,
      'bad-request',
    ],
  ])(
    '%.12s… is answered with %i, the security headers, and a closed connection',
    async (text, status, code) => {
      const received = await send(text);
      expect(received).toMatch(new RegExp(`^HTTP/1.1 ${status} `));
      expect(received).toContain(`/problems/${code}`);
      for (const name of Object.keys(securityHeaders)) expect(received).toContain(`${name}: `);
    },
  );
});
