import { DOCUMENT_FORMATS, type DocumentFormat, renderDocument } from '../render/document.ts';
import type { Ground } from '../render/figure-style.ts';
import type { Pictures } from '../render/pictures.ts';
import { type Document, figuresOf, photosOf } from '../report/document.ts';
import type { Figure } from '../report/figures/figure.ts';
import type { Host } from './host.ts';
import { lookOf } from './look.ts';
import { placePhotos } from './place-photos.ts';
import { type Destination, formatOfFile, putOut } from './put-out.ts';

export interface DocumentOptions extends Destination {
  readonly color: boolean;
  readonly format?: DocumentFormat;
  readonly ground?: Ground;
}

interface Setting extends Around {
  /** The usual one first. */
  readonly formats?: readonly [DocumentFormat, ...DocumentFormat[]];
  readonly frontMatter?: boolean;
}

/** What lies around a page. */
interface Around {
  /** Where the page finds figures that were written into files, by key. */
  readonly figures?: ReadonlyMap<string, string>;
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
  { formats = DOCUMENT_FORMATS, frontMatter = true, ...around }: Setting = {},
): Promise<void> {
  const look = lookOf(host, host.stdout, !options.color || options.output !== undefined);
  const format = options.format ?? formatOfFile(options.output, formats);
  const photos = SHOWS_PHOTOS.includes(format)
    ? await placePhotos(
        host,
        options,
        photosOf(document).map(({ path }) => path),
      )
    : new Map<string, string>();
  const { ground } = options;
  const pictures = await picturesOf(document, format, ground, photos, around);
  const setting = { look, pictures, frontMatter, ground };
  putOut(host, options, await renderDocument(document, format, setting));
}

/** @param photos where the page finds them, by their path in the ledger */
export async function picturesOf(
  document: Document,
  format: DocumentFormat,
  ground: Ground | undefined,
  photos: ReadonlyMap<string, string>,
  { figures = new Map(), cards = new Map(), site }: Around,
): Promise<Pictures> {
  const drawn = await drawnFigures(format === 'html' ? figuresOf(document) : [], ground);
  const links = new Map([...figures, ...photos]);
  return { drawn, links, cards, ...(site === undefined ? {} : { site }) };
}

async function drawnFigures(
  figures: readonly Figure[],
  ground: Ground | undefined,
): Promise<ReadonlyMap<string, string>> {
  const drawn = new Map<string, string>();
  if (figures.length === 0) return drawn;
  const { figureSvg } = await import('../render/figure-svg.ts');
  for (const figure of figures) drawn.set(figure.key, await figureSvg(figure, 'page', { ground }));
  return drawn;
}
