import { readdirSync, readFileSync } from 'node:fs';
import { dirname, join, relative } from 'node:path';
import { describe, expect, it } from 'vitest';

const root = new URL('../../src/', import.meta.url).pathname;

/** Who may import whom, by folder under src/; the table of DEVELOPERS.md says the same in words. */
const allowed: Readonly<Record<string, readonly string[]>> = {
  mechanism: [],
  flow: [],
  store: [],
  diagnosis: ['mechanism'],
  picture: ['mechanism'],
  engraving: ['mechanism'],
  complaint: ['mechanism', 'diagnosis'],
  paper: ['mechanism', 'diagnosis'],
  content: ['mechanism', 'diagnosis', 'flow', 'picture', 'complaint'],
  runs: ['mechanism', 'diagnosis', 'flow', 'picture', 'complaint', 'engraving', 'content', 'store'],
  web: ['runs', 'diagnosis'],
  library: ['mechanism', 'diagnosis', 'flow', 'picture', 'complaint', 'paper', 'content', 'runs', 'web'],
  commands: ['content', 'flow'],
};

const pure = ['mechanism', 'diagnosis', 'flow', 'picture', 'complaint', 'paper'];

/** `isType`: only types come over, so that nothing is loaded for it. */
type Import = { readonly file: string; readonly target: string; readonly isType: boolean };

function listFiles(folder: string): string[] {
  return readdirSync(folder, { recursive: true, withFileTypes: true })
    .filter((entry) => entry.isFile() && entry.name.endsWith('.ts'))
    .map((entry) => relative(root, join(entry.parentPath, entry.name)));
}

function listImports(file: string): Import[] {
  const text = readFileSync(join(root, file), 'utf8');
  const statements = text.matchAll(
    /(?:import|export)(?<type>\s+type)?\s[^';]*?from\s+'(?<target>[^']+)'|import\s*\(?'(?<bare>[^']+)'/g,
  );
  return [...statements].map(({ groups }) => ({
    file,
    target: groups?.target ?? groups?.bare ?? '',
    isType: groups?.type !== undefined,
  }));
}

const files = listFiles(root);
const imports = files.flatMap(listImports);
const folderOf = (path: string): string => (path.includes('/') ? (path.split('/')[0] ?? '') : '');

describe('imports', () => {
  it('go one way between the folders', () => {
    const wrong = imports.filter(({ file, target }) => {
      const from = folderOf(file);
      if (from === '' || !target.startsWith('.')) return false;
      const to = folderOf(join(dirname(file), target));
      return to !== '' && to !== from && !(allowed[from] ?? []).includes(to);
    });
    expect(wrong).toEqual([]);
  });

  it('never go in a circle when the program runs', () => {
    const targets = new Map<string, string[]>();
    for (const { file, target } of imports.filter((one) => one.target.startsWith('.') && !one.isType)) {
      targets.set(file, [...(targets.get(file) ?? []), join(dirname(file), target)]);
    }
    const done = new Set<string>();
    const circles: string[] = [];
    const visit = (file: string, trail: readonly string[]): void => {
      if (trail.includes(file)) circles.push([...trail.slice(trail.indexOf(file)), file].join(' > '));
      if (done.has(file) || trail.includes(file)) return;
      for (const next of targets.get(file) ?? []) visit(next, [...trail, file]);
      done.add(file);
    };
    for (const file of files) visit(file, []);
    expect(circles).toEqual([]);
  });

  it('bring no disk, network, clock or chance into the pure folders', () => {
    const wrong = files
      .filter((file) => pure.includes(folderOf(file)))
      .filter((file) =>
        /'node:|Date\.now|new Date\(|Math\.random|performance\.now|process\./.test(
          readFileSync(join(root, file), 'utf8'),
        ),
      );
    expect(wrong).toEqual([]);
  });

  it('cover every folder that there is', () => {
    expect(
      [...new Set(files.map(folderOf))].filter((folder) => folder !== '' && allowed[folder] === undefined),
    ).toEqual([]);
  });
});
