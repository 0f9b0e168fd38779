/** What the routes are made with. */
import type { Config } from '../config.ts';
import type { Runs } from '../runs/runs.ts';
import type { Library } from './library.ts';
import type { PageCache } from './page-cache.ts';
import type { Renderer } from './render.ts';

/** What the JSON API needs. */
export type ApiParts = { readonly runs: Runs; readonly library: Library };

/** What the pages need. */
export type PageParts = ApiParts & {
  readonly renderer: Renderer;
  readonly config: Config;
  readonly pages: PageCache;
};
