import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { type PaperApp, startPaperApp } from './support/paper-app.ts';

type Operation = {
  operationId: string;
  summary: string;
  parameters?: { name: string; in: string; required?: boolean }[];
  requestBody?: { content: Record<string, { schema: unknown }> };
  responses: Record<string, { description: string; content: Record<string, { schema: unknown }> }>;
};
type Document = {
  openapi: string;
  info: { title: string; version: string };
  paths: Record<string, Record<string, Operation>>;
  components: { schemas: Record<string, unknown> };
};

let paper: PaperApp;
let document: Document;

beforeAll(async () => {
  paper = await startPaperApp();
  document = (await paper.agent.get('/api/openapi.json')).body;
});

afterAll(() => paper.app.close());

describe('the OpenAPI document', () => {
  test('is of version 3.1 and lists every route of the API', () => {
    expect(document.openapi).toMatch(/^3\.1\./);
    const operations = Object.entries(document.paths).flatMap(([path, methods]) =>
      Object.keys(methods).map((method) => `${method} ${path}`),
    );
    expect(operations.sort()).toEqual([
      'get /api/instruments',
      'get /api/instruments/{id}',
      'get /api/instruments/{id}/complaints',
      'get /api/runs/{id}',
      'get /api/runs/{id}/outcome',
      'get /api/runs/{id}/why',
      'post /api/diagnoses',
      'post /api/paper-sheets',
      'post /api/runs',
      'post /api/runs/{id}/answers',
      'post /api/runs/{id}/changes',
      'post /api/runs/{id}/undo',
    ]);
  });

  test('names each operation once, with its parameters, its answer and its refusals', () => {
    const operations = Object.entries(document.paths).flatMap(([path, methods]) =>
      Object.values(methods).map((operation) => ({ path, ...operation })),
    );
    expect(new Set(operations.map(({ operationId }) => operationId)).size).toBe(operations.length);
    for (const { path, summary, parameters = [], responses } of operations) {
      expect(summary).not.toBe('');
      const inPath = [...path.matchAll(/\{(\w+)\}/g)].map(([, name]) => name);
      expect(
        parameters.filter((each) => each.in === 'path' && each.required).map(({ name }) => name),
      ).toEqual(inPath);
      expect(Object.keys(responses).sort()).toEqual([expect.stringMatching(/^20[01]$/), '4XX', '5XX']);
      expect(responses['4XX']?.content).toEqual({
        'application/problem+json': { schema: { $ref: '#/components/schemas/ProblemDocument' } },
      });
    }
  });

  test('refers only to schemas that it holds, and holds none in vain', () => {
    const references = [...JSON.stringify(document).matchAll(/"\$ref":"#\/components\/schemas\/([^"]+)"/g)];
    const names = new Set(references.map(([, name]) => name));
    expect([...names].sort()).toEqual(Object.keys(document.components.schemas).sort());
  });

  test('says what the fields mean and bounds only what is bounded', () => {
    const text = JSON.stringify(document);
    expect(text).toContain('written pitch, e.g. C#4');
    expect(text).not.toContain(String(Number.MAX_SAFE_INTEGER));
  });

  test('has requests with the shapes that are checked: the answer of a run is one of three', () => {
    const schema =
      document.paths['/api/runs/{id}/answers']?.post?.requestBody?.content['application/json']?.schema;
    expect(schema).toMatchObject({
      type: 'object',
      additionalProperties: false,
      required: ['revision', 'answer'],
      properties: { answer: { oneOf: [{ type: 'object' }, { type: 'object' }, { type: 'object' }] } },
    });
  });
});

test('the page for people lists the same operations', async () => {
  const { text } = await paper.agent.get('/api');
  for (const [path, methods] of Object.entries(document.paths)) {
    for (const method of Object.keys(methods)) expect(text).toContain(`${method.toUpperCase()} ${path}`);
  }
});
