/** Long texts travel compressed: the play test, with a picture for every note, shrinks to about a tenth. */
import { promisify } from 'node:util';
import { gzip, gzipSync } from 'node:zlib';
import type { FastifyInstance, FastifyReply, FastifyRequest } from 'fastify';

const compress = promisify(gzip);

/** Below this many characters the saving is less than a packet on the network. */
const shortest = 4096;

/**
 * Compresses long pages and documents for clients that take gzip. No page holds a secret beside something that another
 * site could put into it, so the length of a compressed page gives nothing away.
 * @param app the root instance, before any route
 */
export function compressLongTexts(app: FastifyInstance): void {
  app.addHook('onSend', async (request, reply, payload) => {
    if (typeof payload !== 'string' || payload.length < shortest) return payload;
    reply.header('vary', 'accept-encoding');
    if (!takesGzip(request)) return payload;
    markCompressed(reply);
    return compress(payload, { level: 4 });
  });
}

/** Whether a client says that it takes gzip. */
export function takesGzip(request: FastifyRequest): boolean {
  return /\bgzip\b(?!;q=0(\.0*)?(,|$))/.test(request.headers['accept-encoding'] ?? '');
}

/** Says on a reply that its body is compressed. */
export function markCompressed(reply: FastifyReply): void {
  reply.header('content-encoding', 'gzip').removeHeader('content-length');
}

/**
 * The compressed form of a file that never changes.
 * @param bytes the file
 */
export function compressFile(bytes: Buffer): Buffer {
  return gzipSync(bytes, { level: 9 });
}
