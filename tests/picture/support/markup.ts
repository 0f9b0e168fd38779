/** One start tag of a picture: its name and attributes. */
export type Tag = {
  readonly name: string;
  readonly attributes: ReadonlyMap<string, string>;
  readonly text: string;
  /** How many elements are open around it. */
  readonly depth: number;
};

const TOKEN = /<(\/?)([a-zA-Z][\w-]*)((?:\s+[\w:-]+="[^"<]*")*)\s*(\/?)>|([^<]+)|(<)/g;
const ATTRIBUTE = /([\w:-]+)="([^"]*)"/g;
const ENTITY = /&(?!(?:amp|lt|gt|quot|#39);)/;

/**
 * The elements of XML text in document order, each with the text right after its start tag. Throws when the text is
 * not well-formed: an unknown token, a bare &, a repeated attribute, or tags that do not nest.
 */
export function parseMarkup(markup: string): Tag[] {
  const tags: { name: string; attributes: Map<string, string>; text: string; depth: number }[] = [];
  const open: string[] = [];
  if (ENTITY.test(markup)) throw new Error('an & that begins no known entity');
  for (const [token, close, name, rest, selfClosing, text, stray] of markup.matchAll(TOKEN)) {
    if (stray !== undefined) throw new Error(`a stray < before "${markup.slice(0, 40)}"`);
    if (text !== undefined) {
      if (open.length === 0) throw new Error(`text outside the root: ${token}`);
      tags.at(-1)!.text += text;
    } else if (close === '/') {
      if (open.pop() !== name) throw new Error(`</${name}> closes another element`);
    } else {
      const attributes = new Map<string, string>();
      for (const [, key, value] of rest!.matchAll(ATTRIBUTE)) {
        if (attributes.has(key!)) throw new Error(`${key} twice on <${name}>`);
        attributes.set(key!, value!);
      }
      tags.push({ name: name!, attributes, text: '', depth: open.length });
      if (selfClosing !== '/') open.push(name!);
    }
  }
  if (open.length > 0) throw new Error(`never closed: ${open.join(', ')}`);
  return tags;
}

/** Path data of all elements of a class, joined. */
export function pathsOf(tags: readonly Tag[], className: string): string {
  return tags
    .filter((tag) => tag.attributes.get('class') === `picture-${className}`)
    .map((tag) => tag.attributes.get('d') ?? '')
    .join('');
}

/** The texts of all elements of a class. */
export function textsOf(tags: readonly Tag[], className: string): string[] {
  return tags.filter((tag) => tag.attributes.get('class') === `picture-${className}`).map((tag) => tag.text);
}
