/** The pictures of a document, as far as they are at hand: what is not there is left out or told in words. */
export interface Pictures {
  /** Figures as SVG for a page that holds them, by key. */
  readonly drawn: ReadonlyMap<string, string>;
  /** Where the page finds a figure (by key) or a photo (by its path in the ledger). */
  readonly links: ReadonlyMap<string, string>;
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
