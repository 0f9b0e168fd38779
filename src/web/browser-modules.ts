/** Modules for the browser without a bundler: our own as they are, and the libraries that they name served beside them. */
import { existsSync, readdirSync, readFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import { dirname, join } from 'node:path';
import { fileURLToPath } from 'node:url';

/** The libraries that browser modules may name, by their file beside our modules. */
const libraryFiles: Readonly<Record<string, string>> = { pitchy: 'pitchy.js', 'fft.js': 'fft.js' };

export type BrowserModule = { readonly name: string; readonly text: string };

/**
 * Reads the modules of one folder, and the libraries that the listener needs.
 * @param folder holds the modules; its own name becomes the first part of theirs
 * @param prefix that first part, e.g. `listening`
 * @returns each with its text, in which libraries are named by file
 * @throws Error when a module names a library that is not served, or a file is missing
 */
export function readBrowserModules(folder: string, prefix: string): BrowserModule[] {
  const own = readdirSync(folder)
    .filter((file) => file.endsWith('.js'))
    .sort()
    .map((file) => ({ name: file, text: readFileSync(join(folder, file), 'utf8') }));
  const pitchy = fileURLToPath(import.meta.resolve('pitchy'));
  const fourier = createRequire(pitchy).resolve('fft.js');
  const libraries = [
    { name: libraryFiles.pitchy!, text: withLicence(pitchy, dirname(pitchy)) },
    { name: libraryFiles['fft.js']!, text: asModule(withLicence(fourier, join(dirname(fourier), '..'))) },
  ];
  return [...own, ...libraries].map(({ name, text }) => ({
    name: `${prefix}/${name}`,
    text: nameFiles(text, name),
  }));
}

/** Puts the file beside in the place of a bare name such as 'pitchy'; browsers load by address only. */
function nameFiles(text: string, file: string): string {
  return text.replace(/^(import\s[^'"]*from\s+)(['"])([^./'"][^'"]*)\2/gm, (_, before, quote, library) => {
    const target = libraryFiles[library];
    if (target === undefined) throw new Error(`${file} names ${library}, which is not served to browsers.`);
    return `${before}${quote}./${target}${quote}`;
  });
}

/** A module of the older kind (module.exports) as one that browsers load. */
function asModule(text: string): string {
  return `const module = { exports: {} };\n${text}\nexport default module.exports;\n`;
}

/** A library with its licence before it, which has to go wherever a copy goes: the file LICENSE, else the end of the README. */
function withLicence(path: string, folder: string): string {
  const file = join(folder, 'LICENSE');
  const licence = existsSync(file)
    ? readFileSync(file, 'utf8')
    : /^#+ LICENSE\s+([\s\S]*)$/im.exec(readFileSync(join(folder, 'README.md'), 'utf8'))?.[1];
  if (licence === undefined) throw new Error(`${folder} tells no licence, so ${path} cannot be served.`);
  return `/*!\n${licence.trim()}\n*/\n${readFileSync(path, 'utf8')}`;
}
