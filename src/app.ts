/** The server, put together but not yet listening: the register lines below are its table of contents. */
import { randomUUID } from 'node:crypto';
import Fastify, { type FastifyBaseLogger, type FastifyInstance, LogController } from 'fastify';
import { pino } from 'pino';
import type { Config } from './config.ts';
import type { Runs } from './runs/runs.ts';
import { addApi, addApiPage } from './web/api/api.ts';
import { readAssets, serveAssets } from './web/assets.ts';
import { compressLongTexts } from './web/compression.ts';
import { refuseCrossSite } from './web/cross-site.ts';
import { takeForms } from './web/forms.ts';
import { addSecurityHeaders } from './web/headers.ts';
import { addHealth } from './web/health.ts';
import type { Library } from './web/library.ts';
import { watchMethods } from './web/methods.ts';
import { createPageCache } from './web/page-cache.ts';
import { addCardPage } from './web/pages/card-page.ts';
import { addChangePage } from './web/pages/change-page.ts';
import { addHandOverPage } from './web/pages/hand-over-page.ts';
import { addHelpPage } from './web/pages/help-page.ts';
import { addInstrumentPages } from './web/pages/instrument-pages.ts';
import { addPaperPages } from './web/pages/paper-pages.ts';
import { addProblemPages } from './web/pages/problem-pages.ts';
import { addRunPages } from './web/pages/run-pages.ts';
import { addStartPage } from './web/pages/start-page.ts';
import { addTicketPage } from './web/pages/ticket-page.ts';
import { addWhyPage } from './web/pages/why-page.ts';
import type { PageParts } from './web/parts.ts';
import { answerBrokenRequest, answerUnreadableAddress, replyToProblems } from './web/problem-replies.ts';
import { createRenderer } from './web/render.ts';
import { logRequests } from './web/request-log.ts';

const views = new URL('../views', import.meta.url).pathname;

/** What a request may take, in bytes and milliseconds: slow and silent connections are closed within ten seconds. */
const limits = {
  bodyLimit: 64 * 1024,
  requestTimeout: 8_000,
  connectionTimeout: 15_000,
  keepAliveTimeout: 10_000,
  http: { headersTimeout: 5_000, connectionsCheckingInterval: 1_000, maxHeaderSize: 8 * 1024 },
};

export type AppOptions = {
  readonly config: Config;
  readonly runs: Runs;
  readonly library: Library;
  readonly logger?: FastifyBaseLogger;
  /** Whether the store takes writes, for /readyz. */
  readonly isReady?: () => boolean | Promise<boolean>;
};

/**
 * Builds the server without listening.
 * @param options configuration, use cases and content; a logger when the usual one will not do
 * @returns the fastify instance, to be made ready or to listen
 * @throws Error when a template or an asset is missing or broken
 */
export function buildApp(options: AppOptions): FastifyInstance {
  const { config, runs, library, isReady = () => true } = options;
  const app: FastifyInstance = Fastify({
    ...limits,
    loggerInstance: options.logger ?? pino({ level: config.logLevel, base: null }),
    logController: new LogController({ disableRequestLogging: true }),
    genReqId: () => randomUUID(),
    routerOptions: { maxParamLength: 200 },
    clientErrorHandler: answerBrokenRequest,
    frameworkErrors: answerUnreadableAddress,
  });
  const assets = readAssets(`${views}/assets`);
  const renderer = createRenderer(views, assets);
  const parts: PageParts = { config, runs, library, renderer, pages: createPageCache() };

  replyToProblems(app, renderer, watchMethods(app));
  compressLongTexts(app);
  addSecurityHeaders(app);
  logRequests(app);
  refuseCrossSite(app, config.publicUrl);

  addHealth(app, isReady);
  serveAssets(app, assets);
  let readDocument = (): object => ({});
  app.register(async (scope) => {
    await addApi(scope, parts);
    readDocument = () => scope.swagger();
  });
  app.register((pages, _options, done) => {
    takeForms(pages);
    addStartPage(pages, parts);
    addRunPages(pages, parts);
    addChangePage(pages, parts);
    addHelpPage(pages, parts);
    addHandOverPage(pages, parts);
    addTicketPage(pages, parts);
    addCardPage(pages, parts);
    addPaperPages(pages, parts);
    addWhyPage(pages, parts);
    addInstrumentPages(pages, parts);
    addProblemPages(pages, parts);
    addApiPage(pages, parts, () => readDocument());
    done();
  });
  return app;
}
