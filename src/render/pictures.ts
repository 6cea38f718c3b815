import type { Fact } from '../report/document.ts';

/** The pictures of a document and what else it leads to, as far as they are at hand: what is not there is left out or told in words. */
export interface Pictures {
  /** Figures as SVG for a page that holds them, by key. */
  readonly drawn: ReadonlyMap<string, string>;
  /** Where the page finds a figure (by key) or a photo (by its path in the ledger). */
  readonly links: ReadonlyMap<string, string>;
  /** Where it finds the card of a cultivar, by its key. */
  readonly cards?: ReadonlyMap<string, string>;
  /** The address of the page on its site, where that is known, from which its links go. */
  readonly site?: string;
}

/** Where the card is that a label leads to. */
export function cardOf({ cultivar }: Fact, { cards }: Pictures): string | undefined {
  const link = cultivar === undefined ? undefined : cards?.get(cultivar);
  return link === undefined ? undefined : address(link);
}

/** A path as a link: blanks and marks of Markdown are percent-encoded (RFC 3986). */
export function address(path: string): string {
  // An address in full keeps its scheme and host: only what comes behind is a path.
  const [, origin = '', rest = path] = /^(https?:\/\/[^/]*)(\/.*)$/i.exec(path) ?? [];
  return `${origin}${encoded(rest)}`;
}

function encoded(path: string): string {
  return path
    .split('/')
    .map((part) => encodeURIComponent(part).replace(/[!'()*]/g, percentEncoded))
    .join('/');
}

function percentEncoded(character: string): string {
  return `%${character.charCodeAt(0).toString(16).toUpperCase()}`;
}
