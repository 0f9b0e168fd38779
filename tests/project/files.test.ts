import { execFileSync } from 'node:child_process';
import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { problemCatalogue } from '../../src/problems.ts';

const root = new URL('../../', import.meta.url).pathname;
const longest = 300;

const tracked = execFileSync('git', ['ls-files'], { cwd: root, encoding: 'utf8' }).trim().split('\n');
const read = (file: string): string => readFileSync(root + file, 'utf8');

describe('the files of this project', () => {
  it('are none of them longer than one purpose needs', () => {
    const long = tracked
      .filter((file) => /^(src|tests)\/.*\.(ts|js)$/.test(file) && !file.includes('/published/'))
      .filter((file) => read(file).split('\n').length > longest + 1);
    expect(long).toEqual([]);
  });

  it('stand only where a newcomer looks for them', () => {
    const top = new Set(tracked.map((file) => file.split('/')[0] ?? ''));
    const known = [
      'README.md',
      'DEVELOPERS.md',
      'package.json',
      'package-lock.json',
      'tsconfig.json',
      'Dockerfile',
      'src',
      'flows',
      'tests',
      'views',
    ];
    expect([...top].filter((name) => !name.startsWith('.') && !known.includes(name))).toEqual([]);
  });

  it('leave no test out and nothing for later', () => {
    const left = tracked
      .filter((file) => /^(src|tests|flows|views)\//.test(file) && file !== 'tests/project/files.test.ts')
      .filter((file) => /\.(ts|js|hbs|css|yaml)$/.test(file))
      .filter((file) => /\b(it|test|describe)\.(skip|only|todo)\(|TODO|FIXME/.test(read(file)));
    expect(left).toEqual([]);
  });

  it('name the packages exactly, each with its integrity and no address', () => {
    const { dependencies, devDependencies, optionalDependencies } = JSON.parse(read('package.json'));
    const wanted = Object.values({
      ...dependencies,
      ...devDependencies,
      ...optionalDependencies,
    }) as string[];
    expect(wanted.filter((version) => !/^\d+\.\d+\.\d+$/.test(version))).toEqual([]);
    const { packages } = JSON.parse(read('package-lock.json')) as {
      packages: Record<string, { integrity?: string; resolved?: string }>;
    };
    const loose = Object.entries(packages).filter(
      ([path, entry]) => path !== '' && (entry.integrity === undefined || entry.resolved !== undefined),
    );
    expect(loose.map(([path]) => path)).toEqual([]);
  });
});

describe('DEVELOPERS.md', () => {
  it('lists every problem with its status and title, and no other', () => {
    const table = Object.entries(problemCatalogue).map(
      ([code, { status, title }]) => `| \`${code}\` | ${status} | ${title} |`,
    );
    const [, told = ''] =
      /<!-- problems -->\n([\s\S]*?)<!-- \/problems -->/.exec(read('DEVELOPERS.md')) ?? [];
    expect(told.trim().split('\n').slice(2)).toEqual(table);
  });
});

describe('README.md', () => {
  it('names every variable that the program reads, with its default', () => {
    const config = read('src/config.ts');
    const names = [...config.matchAll(/^ {2}([A-Z_]+): z/gm)].map(([, name]) => name);
    expect(names.length).toBeGreaterThan(3);
    for (const name of names) expect(read('README.md')).toContain(`| \`${name}\` |`);
  });

  it('shows only pictures that are there', () => {
    const pictures = [...read('README.md').matchAll(/\]\(([^)]+\.png)\)/g)].map(([, path]) => path ?? '');
    expect(pictures.length).toBeGreaterThan(0);
    expect(pictures.filter((path) => !tracked.includes(path))).toEqual([]);
  });
});
