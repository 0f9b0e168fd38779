/** Pages from handlebars templates: every template is compiled at start, so that a broken one stops the server there. */
import { readdirSync, readFileSync } from 'node:fs';
import { basename, join } from 'node:path';
import Handlebars from 'handlebars';
import type { Assets } from './assets.ts';
import type { PageModels } from './pages/models.ts';

/** What every page says of itself. */
export type PageHead = {
  readonly title: string;
  /** File names of the scripts that the page may use; it works without them. */
  readonly scripts?: readonly string[];
  /** Whose page it is, in the head beside the mark: which instrument, who is asked. */
  readonly where?: string;
  /** A sheet has no frame: it is made to be printed. */
  readonly isSheet?: boolean;
};

export interface Renderer {
  /** The whole HTML document of one page. Throws when the model lacks what the template names. */
  page<Name extends keyof PageModels>(name: Name, head: PageHead, model: PageModels[Name]): string;
}

const compileOptions = {
  strict: true,
  knownHelpersOnly: true,
  knownHelpers: { svg: true },
} satisfies CompileOptions;

/**
 * Reads and compiles all templates.
 * @param folder views: layout.hbs, pages/*.hbs, partials/*.hbs
 * @param assets addresses of the browser's files
 * @throws Error when a template is missing or does not compile
 */
export function createRenderer(folder: string, assets: Assets): Renderer {
  const handlebars = Handlebars.create();
  handlebars.registerHelper('svg', (text: unknown) => new handlebars.SafeString(toSvg(text)));
  for (const [name, source] of readTemplates(join(folder, 'partials'))) {
    handlebars.precompile(source, compileOptions);
    handlebars.registerPartial(name, handlebars.compile(source, compileOptions));
  }
  const pages = new Map<string, HandlebarsTemplateDelegate>();
  for (const [name, source] of readTemplates(join(folder, 'pages'))) {
    handlebars.precompile(source, compileOptions);
    pages.set(name, handlebars.compile(source, compileOptions));
  }
  const layout = handlebars.compile(readFileSync(join(folder, 'layout.hbs'), 'utf8'), compileOptions);
  return {
    page(name, head, model) {
      const template = pages.get(name);
      if (template === undefined) throw new Error(`There is no template for the page ${name}.`);
      return layout({
        title: head.title,
        where: head.where ?? '',
        isSheet: head.isSheet ?? false,
        scripts: (head.scripts ?? []).map((script) => ({ scriptPath: assets.scriptPaths[script] })),
        stylePath: assets.stylePath,
        markPath: assets.markPath,
        body: template(model),
      });
    },
  };
}

function readTemplates(folder: string): [name: string, source: string][] {
  return readdirSync(folder)
    .filter((file) => file.endsWith('.hbs'))
    .map((file) => [basename(file, '.hbs'), readFileSync(join(folder, file), 'utf8')]);
}

/** Pictures come from our own drawing code as SVG text; anything else in their place is a mistake worth an error. */
function toSvg(text: unknown): string {
  if (typeof text !== 'string' || !text.startsWith('<svg')) throw new Error('A picture has to be SVG text.');
  return text;
}
