/** The files that a browser loads beside a page: one stylesheet, a few scripts, one picture; more when it listens. */
import { createHash } from 'node:crypto';
import { existsSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import type { FastifyInstance } from 'fastify';
import { Problem } from '../problems.ts';
import { readBrowserModules } from './browser-modules.ts';
import { compressFile, markCompressed, takesGzip } from './compression.ts';

/** The parts of the one stylesheet, in the order in which they override each other. */
const styleParts = [
  'tokens.css',
  'page.css',
  'forms.css',
  'step.css',
  'notes.css',
  'written-note.css',
  'listen.css',
  'outcome.css',
  'why.css',
  'paper.css',
  'hand-over.css',
  'manual.css',
  'picture.css',
  'print.css',
];
const scripts = ['notes.js', 'print.js', 'start.js', 'tone.js', 'tuning.js', 'listen.js', 'trials.js'];
/** Modules that are loaded when the person first lets the page listen. */
const listening = 'listening';
const scriptType = 'text/javascript; charset=utf-8';
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
    ...scripts.map((name): [string, string, Buffer] => [name, scriptType, readFileSync(join(folder, name))]),
    ...readBrowserModules(join(folder, listening), listening).map(
      ({ name, text }): [string, string, Buffer] => [name, scriptType, Buffer.from(text)],
    ),
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
  app.get<{ Params: { '*': string } }>('/assets/*', (request, reply) => {
    const asset = assets.files.get(`/assets/${request.params['*']}`);
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
