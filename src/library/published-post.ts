import { relative, resolve } from 'node:path';
import { addPostCommand } from '../cli/commands/post.ts';
import { UsageError } from '../cli/exit.ts';
import { figureNames } from '../cli/figure-names.ts';
import type { Host } from '../cli/host.ts';
import { shownPhotos } from '../cli/place-photos.ts';
import { type CardSetting, cardPages, cardPlaces } from '../cli/post-cards.ts';
import {
  figureFiles,
  figureLink,
  ownNames,
  type PostOptions,
  postDocument,
  postRequest,
  siteOf,
} from '../cli/post-page.ts';
import { picturesOf } from '../cli/print-document.ts';
import { nodeHost } from '../host/node-host.ts';
import type { Ledger } from '../model/ledger.ts';
import { type PageFormat, renderPage } from '../render/document.ts';
import { figureSvg } from '../render/figure-svg.ts';
import { type Document, photosOf } from '../report/document.ts';
import type { PostRequest } from '../report/post/post-request.ts';
import type { AskedPost, PublishedCard, PublishedPost } from './asked-post.ts';
import { folderOf } from './open-ledger.ts';
import { optionsFor, todayOf } from './options-for.ts';
import { pooledGardens } from './pooled-gardens.ts';

/** Options that name files and folders, of which there are none here, and their form. */
const OF_FILES = ['output', 'into', 'figures', 'pool', 'format'];

/** The post with all that it leads to, as the command would write it into a folder of its own. */
export async function publishedPost(
  ledger: Ledger,
  {
    today,
    pool,
    format: wanted,
    cards: where = 'none',
    figuresUrl = 'figures',
    ...words
  }: AskedPost,
): Promise<PublishedPost> {
  const asked = { cards: where, figuresUrl, ...words };
  const options = optionsFor<PostOptions>(addPostCommand, asked, OF_FILES);
  const format = pageFormat(wanted);
  const request = postRequest(ledger, options, todayOf(today ?? options.date), {
    isPooled: pool !== undefined,
    withCards: options.cards !== 'none',
  });
  const post = await postDocument(
    ledger,
    request,
    pool && ((plain) => pooledGardens(ledger, pool, plain, options)),
  );
  const { frontMatter, ground } = options;
  const setting = {
    ...{ format, ground, site: siteOf(options.figuresUrl) },
    frontMatter: frontMatter === 'yaml',
  };
  const warnings: string[] = [];
  const write = (text: string) => warnings.push(text.trimEnd());
  const { own, files, stderr } = nodeHost();
  const host = { own, files, stderr: { ...stderr, write } };
  const { figures, links } = await drawnFigures(host, ledger, request, post, options, format);
  const photos = new Set<string>();
  const placed = async (paths: readonly string[]) => {
    const shown = paths.length === 0 ? [] : shownPhotos(host, folderOf(ledger), paths);
    for (const path of shown) photos.add(path);
    return new Map(shown.map((path) => [path, path]));
  };
  const cards = await writtenCards(ledger, request, post, options, setting, placed);
  const ownPhotos = await placed(photosOf(post).map(({ path }) => path));
  const around = {
    ...{ figures: links, site: setting.site },
    cards: new Map(cards.map(({ cultivar, link }) => [cultivar, link])),
  };
  const text = async (form: PageFormat) => {
    const pictures = await picturesOf(post, form, ground, ownPhotos, around);
    return renderPage(post, form, { ...setting, pictures });
  };
  return {
    title: post.title,
    description: post.published?.description ?? '',
    folder: ownNames(post, format).folder,
    markdown: await text('markdown'),
    html: await text('html'),
    ...{ figures, photos: [...photos], cards, warnings },
  };
}

function pageFormat(format: PostOptions['format'] = 'markdown'): PageFormat {
  if (format === 'markdown' || format === 'html') return format;
  throw new UsageError(`format ${format}: choose one of markdown, html.`);
}

/** Only the name of the folder counts, not where it will lie. */
function ownFolder(post: Document, format: PageFormat) {
  const { folder, page } = ownNames(post, format);
  return { folder: resolve('/', folder), output: resolve('/', folder, page) };
}

async function drawnFigures(
  host: Pick<Host, 'own' | 'stderr'>,
  ledger: Ledger,
  request: PostRequest,
  post: Document,
  { figuresFormat, figuresUrl = '', ground }: PostOptions,
  format: PageFormat,
) {
  const nameOf = await figureNames(ledger, request, ownFolder(post, format));
  const files: PublishedPost['figures'][number][] = [];
  const links = new Map<string, string>();
  for await (const { figure, name, content } of figureFiles(host, post, nameOf, {
    figuresFormat,
    ground,
  })) {
    links.set(figure.key, figureLink(figuresUrl, name));
    files.push(
      typeof content === 'string'
        ? { file: name, svg: content }
        : { file: name, svg: await figureSvg(figure, 'file', { ground }), png: content },
    );
  }
  return { figures: files, links };
}

async function writtenCards(
  ledger: Ledger,
  request: PostRequest,
  post: Document,
  { cards: where }: PostOptions,
  setting: CardSetting,
  placed: (photos: readonly string[]) => Promise<ReadonlyMap<string, string>>,
): Promise<readonly PublishedCard[]> {
  if (where === 'none') return [];
  const { folder } = ownFolder(post, setting.format);
  const places = cardPlaces(post, folder, setting.format, where);
  const cards: PublishedCard[] = [];
  for await (const page of cardPages(ledger, request, post, places, setting, placed)) {
    const { cultivar, link, path, text } = page;
    cards.push({ cultivar, link, file: relative(folder, path).replaceAll('\\', '/'), text });
  }
  return cards;
}
