import { cpSync, mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import Handlebars from 'handlebars';
import { describe, expect, test } from 'vitest';
import { readAssets } from '../../src/web/assets.ts';
import { createRenderer } from '../../src/web/render.ts';

const views = new URL('../../views', import.meta.url).pathname;
const templates = ['.', 'pages', 'partials'].flatMap((folder) =>
  readdirSync(join(views, folder))
    .filter((file) => file.endsWith('.hbs'))
    .map((file) => [join(folder, file), readFileSync(join(views, folder, file), 'utf8')] as const),
);

/** The template with every expression replaced by a word, so that its HTML can be looked at. */
const withoutExpressions = (source: string) => source.replaceAll(/\{\{\{?[^}]*\}?\}\}/g, '~');

/** Every output of a template that is not escaped. */
function listUnescaped(source: string): string[] {
  const found: string[] = [];
  class Finder extends Handlebars.Visitor {
    override MustacheStatement(mustache: hbs.AST.MustacheStatement): void {
      if (!mustache.escaped) found.push((mustache.path as hbs.AST.PathExpression).original);
    }
  }
  new Finder().accept(Handlebars.parse(source));
  return found;
}

describe.each(templates)('%s', (name, source) => {
  test('lets nothing through unescaped, but the layout its body', () => {
    expect(listUnescaped(source).every((path) => name === 'layout.hbs' && path === 'body')).toBe(true);
  });

  test('quotes every attribute that holds an expression', () => {
    for (const tag of withoutExpressions(source).match(/<[a-z][^>]*>/g) ?? []) {
      const unquoted = tag.replaceAll(/"[^"]*"/g, '""');
      expect(unquoted).not.toMatch(/=\s*[^"\s]/);
    }
  });

  test('has no inline script, style or event handler', () => {
    const html = withoutExpressions(source);
    expect(html).not.toMatch(/<style|\sstyle=|\son[a-z]+=|javascript:/i);
    for (const [script] of html.matchAll(/<script[\s\S]*?<\/script>/g)) {
      expect(script).toMatch(/^<script type="module" src="~"><\/script>$/);
    }
  });

  test('takes addresses only from where they are made', () => {
    for (const [, address = ''] of source.matchAll(/(?:href|action|src)="([^"]*)"/g)) {
      expect(address).toMatch(/^(\/[a-z]*|#[a-z]+|#\{\{anchor\}\}|\{\{[\w.]*(P|^p)ath\}\}|\{\{path\}\})$/);
    }
  });
});

describe('the renderer', () => {
  const renderer = createRenderer(views, readAssets(join(views, 'assets')));

  test('fails on a model that lacks something, rather than leave a hole in the page', () => {
    const incomplete = { code: 'x', title: 'y', status: 400 } as never;
    expect(() => renderer.page('problem-entry', { title: 'x' }, incomplete)).toThrow(/"meaning" not defined/);
  });

  test('fails on a picture that is none', () => {
    const model = {
      runPath: '/r/x',
      title: 'x',
      ask: [],
      answered: 'x',
      picture: { svg: '<img src=x>', words: '' },
      written: null,
      form: { actionPath: '/r/x/changes', revision: 1, key: 'x', asked: 'x', entry: 1 },
      choices: [],
      quietChoices: [],
      helpPath: null,
      reading: null,
      proposals: null,
      rows: [],
    };
    expect(() => renderer.page('change', { title: 'x' }, model)).toThrow('A picture has to be SVG text.');
  });

  test('fails at start on a template that does not compile, used or not', () => {
    const folder = mkdtempSync(join(tmpdir(), 'views-'));
    cpSync(views, folder, { recursive: true });
    writeFileSync(join(folder, 'partials', 'odd.hbs'), '{{#if open}}never closed');
    expect(() => createRenderer(folder, readAssets(join(views, 'assets')))).toThrow(/Parse error/);
    rmSync(folder, { recursive: true });
  });

  test('fails at start when the stylesheet lacks a part', () => {
    expect(() => readAssets(join(views, 'pages'))).toThrow(/tokens\.css/);
  });
});
