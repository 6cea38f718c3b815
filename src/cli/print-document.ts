import { DOCUMENT_FORMATS, type DocumentFormat, renderDocument } from '../render/document.ts';
import type { Ground } from '../render/figure-style.ts';
import { type Document, figuresOf, photosOf } from '../report/document.ts';
import type { Host } from './host.ts';
import { lookOf } from './look.ts';
import { placePhotos } from './place-photos.ts';
import { type Destination, formatOfFile, putOut } from './put-out.ts';

export interface DocumentOptions extends Destination {
  readonly color: boolean;
  readonly format?: DocumentFormat;
  readonly ground?: Ground;
}

interface Setting {
  /** The usual one first. */
  readonly formats?: readonly [DocumentFormat, ...DocumentFormat[]];
  /** Where the page finds figures that were written into files, by key. */
  readonly figures?: ReadonlyMap<string, string>;
  readonly frontMatter?: boolean;
  readonly cards?: ReadonlyMap<string, string>;
  /** As of `Pictures`. */
  readonly site?: string | undefined;
}

/** Text and JSON only name them. */
const SHOWS_PHOTOS: readonly DocumentFormat[] = ['markdown', 'html'];

/** Prints a document or writes it to a file. */
export async function printDocument(
  host: Host,
  options: DocumentOptions,
  document: Document,
  {
    formats = DOCUMENT_FORMATS,
    figures = new Map(),
    frontMatter = true,
    cards = new Map(),
    site,
  }: Setting = {},
): Promise<void> {
  const look = lookOf(host, host.stdout, !options.color || options.output !== undefined);
  const format = options.format ?? formatOfFile(options.output, formats);
  const drawn =
    format === 'html' ? await drawnFigures(document, options.ground) : new Map<string, string>();
  const photos = SHOWS_PHOTOS.includes(format)
    ? await placePhotos(
        host,
        options,
        photosOf(document).map(({ path }) => path),
      )
    : [];
  const links = new Map([...figures, ...photos]);
  const pictures = { drawn, links, cards, ...(site === undefined ? {} : { site }) };
  const { ground } = options;
  const setting = { look, pictures, frontMatter, ground };
  putOut(host, options, await renderDocument(document, format, setting));
}

async function drawnFigures(
  document: Document,
  ground: Ground | undefined,
): Promise<ReadonlyMap<string, string>> {
  const drawn = new Map<string, string>();
  const figures = figuresOf(document);
  if (figures.length === 0) return drawn;
  const { figureSvg } = await import('../render/figure-svg.ts');
  for (const figure of figures) drawn.set(figure.key, await figureSvg(figure, 'page', { ground }));
  return drawn;
}
