/** Pages of runs as they were sent: a run's page changes only with its revision, so it is made once. */
import { gzipSync } from 'node:zlib';
import type { FastifyReply, FastifyRequest } from 'fastify';
import { LRUCache } from 'lru-cache';
import { markCompressed, takesGzip } from './compression.ts';

type SentPage = { readonly plain: Buffer; zipped: Buffer | null };

const keptPages = 300;

export type PageCache = {
  /**
   * Sends the page under a key, made by `render` where it is not kept.
   * @param key everything that the page depends on
   */
  send(key: string, render: () => string, request: FastifyRequest, reply: FastifyReply): FastifyReply;
};

/** A bounded memory of pages. */
export function createPageCache(): PageCache {
  const pages = new LRUCache<string, SentPage>({ max: keptPages });
  return {
    send(key, render, request, reply) {
      const page = pages.get(key) ?? { plain: Buffer.from(render(), 'utf8'), zipped: null };
      pages.set(key, page);
      reply.type('text/html; charset=utf-8').header('vary', 'accept-encoding');
      if (!takesGzip(request)) return reply.send(page.plain);
      page.zipped ??= gzipSync(page.plain, { level: 5 });
      markCompressed(reply);
      return reply.send(page.zipped);
    },
  };
}
