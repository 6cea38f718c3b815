import { dirname, join, relative, resolve } from 'node:path';
import { type Command, Option } from 'commander';
import type { Ledger } from '../../model/ledger.ts';
import type { PageFormat } from '../../render/document.ts';
import { FIGURE_FORMATS } from '../../render/figure-style.ts';
import type { Document } from '../../report/document.ts';
import type { PostRequest } from '../../report/post/post-request.ts';
import { visible } from '../../source/visible.ts';
import { UsageError } from '../exit.ts';
import type { Host } from '../host.ts';
import type { GlobalOptions } from '../open-ledger.ts';
import {
  commaWords,
  groundOption,
  parseCount,
  parseDate,
  withConfidence,
  withFile,
  withSelection,
} from '../options.ts';
import type { CardPlace } from '../post-cards.ts';
import type { PostOptions } from '../post-page.ts';
import { formatOfFile } from '../put-out.ts';

/** Those of every document; a post is usually written for a site generator. */
const FORMATS = ['markdown', 'html', 'text', 'json'] as const;

/** In the folder of a post, beside it, or nowhere. */
const CARDS = ['inside', 'beside', 'none'] as const;

interface WrittenOptions extends PostOptions, GlobalOptions {
  /** Folder in which the post gets one of its own. */
  readonly into?: string;
  /** Folder for figures. */
  readonly figures?: string;
  /** Folders of other gardens. */
  readonly pool?: readonly string[];
}

export function addPostCommand(program: Command, host: Host): void {
  const command = program
    .command('post')
    .description('An article for readers: what is worth planting here, and how sure that is.');
  withFile(withConfidence(withSelection(command)))
    .addOption(new Option('--top <n>', 'rows of the rank tables').argParser(parseCount).default(10))
    .addOption(
      new Option(
        '--format <form>',
        'form of the post (default: by the file, else markdown)',
      ).choices(FORMATS),
    )
    .option('--title <text>', 'title, instead of that of the ledger and the seasons')
    .addOption(new Option('--date <day>', 'date, instead of today').argParser(parseDate))
    .addOption(commaWords('--tags <words>', 'tags', 'none'))
    .addOption(
      new Option('--front-matter <form>', 'what stands at the head of Markdown')
        .choices(['yaml', 'none'])
        .default('yaml'),
    )
    .option('--full', 'all tables and figures behind the article, and how they were had', false)
    .option('--name-tasters', 'name tasters by first name, not only their number', false)
    .option(
      '--figures <dir>',
      'write figures as files into this folder; HTML has them inside as well',
    )
    .addOption(
      new Option('--figures-format <form>', 'form of these files')
        .choices(FIGURE_FORMATS)
        .default('svg'),
    )
    .addOption(groundOption('what figures and a page of HTML stand on'))
    .option(
      '--into <dir>',
      'write the page into a folder of its own in this one, with its figures, photos and cards',
    )
    .addOption(
      new Option(
        '--cards <where>',
        'of --into: cards inside the folder of the post, or beside it, as Hugo wants them',
      )
        .choices(CARDS)
        .default('inside'),
    )
    .option(
      '--pool <dir...>',
      'several gardens as one: folders of the ledgers of the others; this one is home',
    )
    .option(
      '--figures-url <url>',
      'where the site has that folder, as /assets/figures; else links go from the post',
    )
    .addHelpText('after', `\nExample:\n  ${EXAMPLE}`)
    .action(async () => writePost(host, command.optsWithGlobals<WrittenOptions>()));
}

const EXAMPLE =
  'pomary post --season 2024..2026 --tags figs,trial --figures figures --output post.md';

async function writePost(host: Host, given: WrittenOptions): Promise<void> {
  const format = given.format ?? formatOfFile(given.output, FORMATS);
  // Machines get all that there is.
  const options = { ...given, full: given.full || format === 'json' };
  const { into, pool } = options;
  const { openForReport } = await import('../open-ledger.ts');
  const { openPool } = await import('../open-pool.ts');
  const { postDocument, postRequest, siteOf } = await import('../post-page.ts');
  const ledger = await openForReport(host, options);
  const request = postRequest(ledger, options, options.date ?? host.today(), {
    isPooled: pool !== undefined,
    withCards: into !== undefined && options.cards !== 'none',
  });
  const post = await postDocument(
    ledger,
    request,
    pool && ((plain) => openPool(host, ledger, pool, plain, options)),
  );
  const frontMatter = options.frontMatter === 'yaml';
  const site = into === undefined ? undefined : siteOf(options.figuresUrl);
  const setting = { formats: FORMATS, frontMatter, site };
  const { printDocument } = await import('../print-document.ts');
  if (into === undefined) {
    const figures = await writeFigures(host, options, post, ledger, request);
    return printDocument(host, options, post, { ...setting, figures });
  }
  const place = await ownFolder(options, into, post, format);
  const { cardPlaces, writeCards } = await import('../post-cards.ts');
  const cards =
    options.cards === 'none'
      ? []
      : cardPlaces(post, resolve(host.cwd, place.figures), place.format, options.cards);
  const placed = { ...options, ...place };
  const figures = await writeFigures(host, placed, post, ledger, request, cards);
  await writeCards(host, ledger, request, post, cards, { ...placed, ...setting });
  const links = new Map(cards.map(({ cultivar, link }) => [cultivar, link]));
  await printDocument(host, placed, post, { ...setting, figures, cards: links });
  // Its folder is named after the title, which nobody typed here.
  host.stdout.write(`${visible(`${post.title}: written to ${place.output}`)}\n`);
}

/** The folder of the post, named after its title, and its page there; both are made when they are written. */
async function ownFolder(
  { output, figures }: WrittenOptions,
  into: string,
  post: Document,
  format: (typeof FORMATS)[number],
): Promise<OwnPlace> {
  if (output !== undefined || figures !== undefined) {
    throw new UsageError('--into names the files itself: leave out --output and --figures');
  }
  if (format !== 'markdown' && format !== 'html') {
    throw new UsageError('--into writes a page: --format markdown or html');
  }
  const { ownNames } = await import('../post-page.ts');
  const own = ownNames(post, format);
  const folder = join(into, own.folder);
  return { figures: folder, output: join(folder, own.page), format };
}

interface OwnPlace {
  readonly figures: string;
  readonly output: string;
  readonly format: PageFormat;
}

/** Writes the figures and gives the path to each as it is from the post. */
async function writeFigures(
  host: Host,
  { into, figures, figuresUrl, figuresFormat, ground, output }: WrittenOptions,
  post: Document,
  ledger: Ledger,
  request: PostRequest,
  cards: readonly CardPlace[] = [],
): Promise<ReadonlyMap<string, string>> {
  const links = new Map<string, string>();
  if (figures === undefined) {
    if (figuresUrl === undefined && figuresFormat === 'svg') return links;
    const asked = figuresUrl === undefined ? '--figures-format' : '--figures-url';
    throw new UsageError(`${asked} goes with --figures, the folder to write them into`);
  }
  const folder = resolve(host.cwd, figures);
  if (into === undefined && host.files.kind(folder) !== 'folder') {
    throw new UsageError(`--figures ${figures}: there is no such folder; make it first`);
  }
  const { figuresOf } = await import('../../report/document.ts');
  const { figureNames } = await import('../figure-names.ts');
  const { figureFiles, figureLink } = await import('../post-page.ts');
  const file = output === undefined ? undefined : resolve(host.cwd, output);
  const from = file === undefined ? host.cwd : dirname(file);
  const nameOf = await figureNames(ledger, request, { folder, output: file });
  if (into !== undefined && file !== undefined) {
    const names = figuresOf(post).flatMap(({ key }) =>
      FIGURE_FORMATS.map((format) => nameOf(key, format)),
    );
    const isOwn = names.some((name) => host.files.kind(join(folder, name)) === 'file');
    const inTheWay = [file, ...cards.map(({ path }) => path)].find(
      (path) => host.files.kind(path) !== 'none',
    );
    if (!isOwn && inTheWay !== undefined) {
      const what = inTheWay === file ? output : join(figures, relative(folder, inTheWay));
      throw new UsageError(
        `${what} is of another post, as far as can be told; give this one another --title or --into`,
      );
    }
  }
  for await (const { figure, name, content } of figureFiles(host, post, nameOf, {
    figuresFormat,
    ground,
  })) {
    const path = join(folder, name);
    host.files.writeAll([{ path, text: content }]);
    const fromPost = relative(from, path).replaceAll('\\', '/');
    links.set(figure.key, figuresUrl === undefined ? fromPost : figureLink(figuresUrl, name));
  }
  return links;
}
