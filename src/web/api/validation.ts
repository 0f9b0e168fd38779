/** The JSON API's compilers: requests are checked by zod and refused field by field, responses are cut to their schema. */
import type { FastifyInstance } from 'fastify';
import { serializerCompiler } from 'fastify-type-provider-zod';
import { z } from 'zod';
import { toRequestProblem } from '../issues.ts';

const partNames: Record<string, string> = {
  body: 'body',
  params: 'address',
  querystring: 'query',
  headers: 'headers',
};

/**
 * Sets the compilers of a scope.
 * @param scope the scope of the API's routes
 */
export function checkByZod(scope: FastifyInstance): void {
  scope.setValidatorCompiler<z.ZodType>(({ schema, httpPart }) => (data) => {
    const parsed = z.safeParse(schema, data, { reportInput: true });
    if (parsed.success) return { value: parsed.data };
    return { error: toRequestProblem(parsed.error, partNames[httpPart ?? 'body'] ?? 'request') };
  });
  scope.setSerializerCompiler(serializerCompiler);
}
