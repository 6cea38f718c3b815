/** An element of a page or picture. */
export interface Element {
  readonly name: string;
  readonly attributes: Readonly<Record<string, string>>;
  /** Of itself and all that is in it. */
  readonly text: string;
  /** Names of the elements around it, outermost first. */
  readonly inside: readonly string[];
}

const VOID = new Set(['meta', 'img']);

/**
 * Reads HTML or SVG more strictly than any browser: every element closed, every attribute quoted,
 * every mark of markup in text written as a reference. Throws otherwise. Elements come in the order
 * in which they open.
 */
export function readMarkup(markup: string): readonly Element[] {
  const body = markup
    .replace(/^<!doctype html>\n/, '')
    .replace(/<style>[^<]*<\/style>/g, '<style></style>');
  const open: { name: string; text: string }[] = [];
  const found: Element[] = [];
  const token =
    /<(\/?)([a-z][a-zA-Z0-9]*)((?: [a-zA-Z][a-zA-Z0-9:-]*="[^"<]*")*)(\/?)>|([^<>]+)|([\s\S])/g;
  for (const [, close, name = '', written = '', alone, text, stray] of body.matchAll(token)) {
    if (stray !== undefined) throw new Error(`stray ${stray}`);
    if (text !== undefined) {
      for (const one of open) one.text += meant(text);
    } else if (close === '/') {
      const last = open.pop();
      if (last?.name !== name) throw new Error(`</${name}> closes ${last?.name}`);
    } else {
      const element = {
        name,
        attributes: attributesOf(written),
        text: '',
        inside: open.map((one) => one.name),
      };
      found.push(element);
      if (alone !== '/' && !VOID.has(name)) open.push(element);
    }
  }
  if (open.length > 0) throw new Error(`not closed: ${open.map((one) => one.name).join()}`);
  return found;
}

/** Elements of one name. */
export function named(elements: readonly Element[], name: string): readonly Element[] {
  return elements.filter((one) => one.name === name);
}

function attributesOf(written: string): Record<string, string> {
  const pairs = [...written.matchAll(/ ([a-zA-Z][a-zA-Z0-9:-]*)="([^"]*)"/g)];
  const names = pairs.map(([, name]) => name);
  if (new Set(names).size < names.length) throw new Error(`an attribute twice in ${written}`);
  return Object.fromEntries(pairs.map(([, name = '', value = '']) => [name, meant(value)]));
}

const REFERENCES: Readonly<Record<string, string>> = { amp: '&', lt: '<', gt: '>', quot: '"' };

function meant(text: string): string {
  return text.replace(/&(?:#(\d+)|(\w+));|&/g, (whole, code?: string, word?: string) => {
    if (code !== undefined) return String.fromCodePoint(Number(code));
    const character = REFERENCES[word ?? ''];
    if (character === undefined) throw new Error(`bare ${whole} in ${text}`);
    return character;
  });
}
