import { type Document, type Fact, figuresOf, photosOf } from '../report/document.ts';
import { proseText } from './format-cell.ts';

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
export function cardAddress({ cultivar }: Fact, { cards }: Pictures): string | undefined {
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

export interface SharePicture {
  /** In full where the site is known, else as the page finds it. */
  readonly url: string;
  /** What is seen on it. */
  readonly alt: string;
}

/** The picture that lists and previews of a page show: its first photo, or its first figure in a file. */
export function sharePicture(document: Document, pictures: Pictures): SharePicture | undefined {
  const { links, site } = pictures;
  const found = [
    ...photosOf(document).map(({ path, alt }) => ({ link: links.get(path), alt })),
    ...figuresOf(document).map(({ key, title, alt }) => ({
      link: links.get(key),
      alt: `${title}. ${proseText(alt)}`,
    })),
  ].find(({ link }) => link !== undefined);
  if (found?.link === undefined) return undefined;
  const url = address(found.link);
  return { url: site === undefined ? url : new URL(url, site).href, alt: found.alt };
}
