/** Which methods an address takes: the difference between "no such page" and "not this kind of request". */
import type { FastifyInstance } from 'fastify';

/** Says which methods a path takes, in alphabetical order; none when there is no such path. */
export type MethodsAt = (path: string) => readonly string[];

/**
 * Watches the routes as they are registered.
 * @param app the root instance, before any route
 * @returns a function from a path (without query) to the methods that it takes
 */
export function watchMethods(app: FastifyInstance): MethodsAt {
  const patterns = new Map<string, { matches: RegExp; methods: Set<string> }>();
  app.addHook('onRoute', ({ url, method }) => {
    const known = patterns.get(url) ?? { matches: toExpression(url), methods: new Set<string>() };
    for (const each of [method].flat()) known.methods.add(each);
    patterns.set(url, known);
  });
  return (path) => {
    const methods = [...patterns.values()]
      .filter(({ matches }) => matches.test(path))
      .flatMap((pattern) => [...pattern.methods]);
    return [...new Set(methods)].sort();
  };
}

function toExpression(url: string): RegExp {
  const parts = url
    .split('/')
    .map((part) =>
      part.startsWith(':') ? '[^/]+' : part.replaceAll(/[.*+?^${}()|[\]\\]/g, String.raw`\$&`),
    );
  return new RegExp(`^${parts.join('/')}$`);
}
