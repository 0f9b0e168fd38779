import type { Size } from './geometry.ts';
import { element, escapeText } from './markup.ts';

/** A picture: SVG text to put into a page, and a text alternative that says the same in plain words. */
export type Picture = { readonly svg: string; readonly words: string };

/** Ids inside a picture begin with the prefix, so that several pictures can stand on one page. */
export type PictureOptions = { readonly prefix: string };

const PREFIX = /^[A-Za-z][A-Za-z0-9_-]*$/;

/**
 * The whole picture as an inline SVG element with role, title and description.
 * Throws RangeError when the prefix cannot begin an id.
 */
export function framePicture(
  { prefix }: PictureOptions,
  kind: string,
  size: Size,
  title: string,
  words: string,
  ...content: readonly string[]
): Picture {
  if (!PREFIX.test(prefix)) {
    throw new RangeError(`"${prefix}" cannot begin an id; use a letter, then letters, digits, - or _`);
  }
  const [titleId, wordsId] = [`${prefix}-title`, `${prefix}-words`];
  const svg = element(
    'svg',
    {
      class: `picture picture-${kind}`,
      viewBox: `0 0 ${Math.ceil(size[0])} ${Math.ceil(size[1])}`,
      role: 'img',
      'aria-labelledby': `${titleId} ${wordsId}`,
    },
    element('title', { id: titleId }, escapeText(title)),
    element('desc', { id: wordsId }, escapeText(words)),
    ...content,
  );
  return { svg, words };
}
