import type { IsoDate } from '../model/dates.ts';
import type { Ledger } from '../model/ledger.ts';
import type { DocumentFormat, PageFormat } from '../render/document.ts';
import type { FigureFormat, Ground } from '../render/figure-style.ts';
import { type Document, figuresOf } from '../report/document.ts';
import type { Figure } from '../report/figures/figure.ts';
import type { PostRequest } from '../report/post/post-request.ts';
import type { ReportRequest } from '../report/report-request.ts';
import { drawnFigure } from './drawn-figure.ts';
import { fileWord } from './figure-names.ts';
import type { Host } from './host.ts';
import type { OpenedPool } from './open-pool.ts';
import type { ReportOptions } from './options.ts';
import { ofHomeAlone, requestOf } from './request.ts';

/** What the options of `post` come to, once commander has parsed them; folders are the command's own. */
export interface PostOptions extends Omit<ReportOptions, 'format' | 'sort' | 'by' | 'top'> {
  readonly top: number;
  readonly format?: DocumentFormat;
  readonly title?: string;
  readonly date?: IsoDate;
  readonly tags: readonly string[];
  readonly frontMatter: 'yaml' | 'none';
  readonly nameTasters: boolean;
  readonly full: boolean;
  /** Where the cards of its cultivars go. */
  readonly cards: 'inside' | 'beside' | 'none';
  /** What stands before the name of a figure in its link. */
  readonly figuresUrl?: string;
  readonly figuresFormat: FigureFormat;
  readonly ground: Ground;
}

/** What is asked of a post, held against the ledger. */
export function postRequest(
  ledger: Ledger,
  options: PostOptions,
  today: IsoDate,
  { isPooled, withCards }: { readonly isPooled: boolean; readonly withCards: boolean },
): PostRequest {
  const { top, title, date = today, tags, full, nameTasters } = options;
  return {
    ...requestOf(ledger, isPooled ? ofHomeAlone(options) : options, today),
    ...{ top, title, date, tags, full, withCards, nameTasters },
  };
}

/** @param pooled holds what is asked against several gardens, where the post is of several */
export async function postDocument(
  ledger: Ledger,
  request: PostRequest,
  pooled?: (request: ReportRequest) => OpenedPool | Promise<OpenedPool>,
): Promise<Document> {
  if (pooled === undefined) {
    const { buildPost } = await import('../report/post/build-post.ts');
    return buildPost(ledger, request);
  }
  const { poolPost } = await import('../report/pool/pool-post.ts');
  // How many rows tables have says nothing of how many figures draw.
  const { top: _, ...plain } = request;
  const { material, asked } = await pooled(plain);
  return poolPost(material, asked, request);
}

/** The folder that a post has for itself, named after its title, and its page there. */
export function ownNames(post: Document, format: PageFormat) {
  return {
    folder: fileWord(post.title) || 'post',
    page: format === 'html' ? 'index.html' : 'index.md',
  };
}

/** The address of that folder, where the person gives it in full. */
export function siteOf(figuresUrl: string | undefined): string | undefined {
  const address = `${figuresUrl?.replace(/\/+$/, '')}/`;
  return /^https?:/i.test(address) && URL.canParse(address) ? address : undefined;
}

/** The link to a figure that lies where an address says. */
export function figureLink(figuresUrl: string, name: string): string {
  return `${figuresUrl.replace(/\/+$/, '')}/${name}`;
}

/** A figure as a file. */
interface FigureFile {
  readonly figure: Figure;
  readonly name: string;
  readonly content: string | Uint8Array;
}

/** The figures of a post as files, one after the other. */
export async function* figureFiles(
  host: Pick<Host, 'own' | 'stderr'>,
  post: Document,
  nameOf: (key: string, format: FigureFormat) => string,
  { figuresFormat: format, ground }: Pick<PostOptions, 'figuresFormat' | 'ground'>,
): AsyncGenerator<FigureFile> {
  for (const figure of figuresOf(post)) {
    const content = await drawnFigure(host, figure, { format, ground });
    yield { figure, name: nameOf(figure.key, format), content };
  }
}
