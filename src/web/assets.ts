/** The files that a browser loads beside a page: one stylesheet, a few small scripts, one picture. */
import { createHash } from 'node:crypto';
import { existsSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import type { FastifyInstance } from 'fastify';
import { Problem } from '../problems.ts';
import { compressFile, markCompressed, takesGzip } from './compression.ts';

/** The parts of the one stylesheet, in the order in which they override each other. */
const styleParts = [
  'tokens.css',
  'page.css',
  'forms.css',
  'step.css',
  'notes.css',
  'written-note.css',
  'outcome.css',
  'why.css',
  'picture.css',
  'print.css',
];
const scripts = ['notes.js', 'print.js', 'start.js', 'tone.js'];
const mark = 'mark.svg';

export type Assets = {
  readonly stylePath: string;
  readonly markPath: string;
  /** Address of one of the scripts by its file name. */
  readonly scriptPaths: Readonly<Record<string, string>>;
  readonly files: ReadonlyMap<
    string,
    { readonly type: string; readonly bytes: Buffer; readonly compressed: Buffer }
  >;
};

/**
 * Reads the browser's files once and gives each an address that changes with their content.
 * @param folder views/assets
 * @throws Error when a file is missing, picture.css excepted
 */
export function readAssets(folder: string): Assets {
  const style = styleParts
    .map((part) => join(folder, part))
    .filter((path) => !path.endsWith('picture.css') || existsSync(path))
    .map((path) => readFileSync(path, 'utf8'))
    .join('\n');
  const contents: [name: string, type: string, bytes: Buffer][] = [
    ['quarter-turn.css', 'text/css; charset=utf-8', Buffer.from(withoutComments(style))],
    [mark, 'image/svg+xml', readFileSync(join(folder, mark))],
    ...scripts.map((name): [string, string, Buffer] => [
      name,
      'text/javascript; charset=utf-8',
      readFileSync(join(folder, name)),
    ]),
  ];
  const hash = createHash('sha256');
  for (const [, , bytes] of contents) hash.update(bytes);
  const base = `/assets/${hash.digest('base64url').slice(0, 16)}`;
  return {
    stylePath: `${base}/quarter-turn.css`,
    markPath: `${base}/${mark}`,
    scriptPaths: Object.fromEntries(scripts.map((name) => [name, `${base}/${name}`])),
    files: new Map(
      contents.map(([name, type, bytes]) => [
        `${base}/${name}`,
        { type, bytes, compressed: compressFile(bytes) },
      ]),
    ),
  };
}

/**
 * Serves the browser's files; their address holds their hash, so they may be kept for ever.
 * @param app the instance to add the route to
 * @param assets what readAssets gave
 */
export function serveAssets(app: FastifyInstance, assets: Assets): void {
  app.get<{ Params: { hash: string; file: string } }>('/assets/:hash/:file', (request, reply) => {
    const { hash, file } = request.params;
    const asset = assets.files.get(`/assets/${hash}/${file}`);
    if (asset === undefined) {
      throw new Problem(
        'unknown-page',
        'There is no such file. It may be of an older version: load the page again.',
      );
    }
    reply.type(asset.type).headers({
      'cache-control': 'public, max-age=31536000, immutable',
      vary: 'accept-encoding',
    });
    if (!takesGzip(request)) return reply.send(asset.bytes);
    markCompressed(reply);
    return reply.send(asset.compressed);
  });
}

function withoutComments(style: string): string {
  return style.replaceAll(/\/\*[\s\S]*?\*\//g, '').replaceAll(/\n\s*\n+/g, '\n');
}
