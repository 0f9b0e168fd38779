/** The OpenAPI 3.1 document: how it is made from the schemas that the routes check with. */
import type { FastifyDynamicSwaggerOptions } from '@fastify/swagger';
import { jsonSchemaTransform, jsonSchemaTransformObject } from 'fastify-type-provider-zod';
import { z } from 'zod';
import { OutcomeView, RunView } from '../../runs/view.ts';
import { WhyView } from '../../runs/why-schema.ts';
import { InstrumentDetail } from '../instrument-schema.ts';
import { DiagnosisView } from '../library.ts';
import { ProblemDocument } from '../problem-document.ts';

/** Schemas that the document names once and refers to. */
const named = { RunView, OutcomeView, WhyView, InstrumentDetail, DiagnosisView, ProblemDocument };
for (const [id, schema] of Object.entries(named)) {
  z.globalRegistry.add(schema, { ...z.globalRegistry.get(schema), id });
}

/** How the document is made. */
export const documentOptions: FastifyDynamicSwaggerOptions = {
  openapi: {
    openapi: '3.1.0',
    info: {
      title: 'Quarter Turn',
      version: '1',
      description:
        'Find the one part of a band instrument that is at fault: the same powers as the pages. Errors are problem details (RFC 9457).',
    },
  },
  transform: jsonSchemaTransform,
  transformObject: jsonSchemaTransformObject,
};

type Json = null | boolean | number | string | Json[] | { [name: string]: Json };

/**
 * The document as it is served: without the bounds that every JavaScript integer has, and without schemas that nothing
 * refers to.
 * @param document what the swagger plugin gives once all routes are registered
 */
export function tidyDocument(document: object): object {
  const text = JSON.stringify(document, (name, value) =>
    (name === 'minimum' || name === 'maximum') && Math.abs(value) === Number.MAX_SAFE_INTEGER
      ? undefined
      : value,
  );
  const tidy = JSON.parse(text) as { paths: Json; components?: { schemas?: { [name: string]: Json } } };
  const schemas = tidy.components?.schemas ?? {};
  const used = new Set<string>();
  const visit = (part: Json): void => {
    for (const [, name = ''] of JSON.stringify(part).matchAll(/"#\/components\/schemas\/([^"]+)"/g)) {
      if (used.has(name)) continue;
      used.add(name);
      visit(schemas[name] ?? null);
    }
  };
  visit(tidy.paths);
  for (const name of Object.keys(schemas)) if (!used.has(name)) delete schemas[name];
  return tidy;
}
