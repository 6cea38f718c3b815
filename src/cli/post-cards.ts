import { basename, dirname, join } from 'node:path';
import type { Ledger } from '../model/ledger.ts';
import { type PageFormat, renderPage } from '../render/document.ts';
import type { Ground } from '../render/figure-style.ts';
import { cardOf } from '../report/card/card.ts';
import type { CardSources } from '../report/card/judged-sections.ts';
import { cultivarsOf, type Document, photosOf } from '../report/document.ts';
import { rankReport } from '../report/judged/rank-report.ts';
import { verdictReport } from '../report/judged/verdict-report.ts';
import type { PostRequest } from '../report/post/post-request.ts';
import { fileWord } from './figure-names.ts';
import type { Host } from './host.ts';
import { placePhotos } from './place-photos.ts';
import type { Destination } from './put-out.ts';

/** Where the card of a cultivar goes. */
export interface CardPlace {
  readonly cultivar: string;
  /** Absolute path of its page. */
  readonly path: string;
  /** As the post finds it. */
  readonly link: string;
  /** The way from there to the folder of the post; empty, or ends with a slash. */
  readonly back: string;
}

/**
 * Places for the cards of all cultivars that a post tells of: inside the folder of the post, or
 * beside it, for site generators that take what lies inside for parts of the post and make no pages
 * of it. They turn a folder with an index into an address that ends with its name, as they do with
 * the post's own; a page that is opened from a disk needs the name of a file.
 */
export function cardPlaces(
  post: Document,
  folder: string,
  format: PageFormat,
  where: 'inside' | 'beside',
): readonly CardPlace[] {
  const own = basename(folder);
  const [above, before, up, back] =
    where === 'inside' ? [folder, '', '', ''] : [dirname(folder), `${own}-`, '../', `${own}/`];
  // The page of the post itself has that name.
  const taken = new Set(['index']);
  return cultivarsOf(post).map((cultivar, at) => {
    const word = fileWord(cultivar);
    const free = word === '' || taken.has(word) ? `${word || 'card'}-${at + 1}` : word;
    taken.add(free);
    const name = `${before}${free}`;
    return format === 'html'
      ? { cultivar, path: join(above, `${name}.html`), link: `${up}${name}.html`, back }
      : {
          cultivar,
          path: join(above, name, 'index.md'),
          link: `${up}${name}/`,
          back: `../${back}`,
        };
  });
}

/** What the cards take over from the post. */
export interface CardSetting {
  readonly format: PageFormat;
  readonly frontMatter: boolean;
  readonly ground?: Ground | undefined;
  /** Address of the post on its site, where that is known. */
  readonly site?: string | undefined;
}

/** Writes the cards, with their photos beside those of the post. */
export async function writeCards(
  host: Host,
  ledger: Ledger,
  request: PostRequest,
  post: Document,
  places: readonly CardPlace[],
  setting: CardSetting & Destination,
): Promise<void> {
  const placed = (photos: readonly string[]) => placePhotos(host, setting, photos);
  for await (const { path, text } of cardPages(ledger, request, post, places, setting, placed)) {
    host.files.writeAll([{ path, text }]);
  }
}

/** The card that stands in a place. */
export interface CardPage extends CardPlace {
  readonly text: string;
}

/**
 * The cards, one after the other.
 *
 * @param placed makes photos reachable, and tells where they are from the page of the post
 */
export async function* cardPages(
  ledger: Ledger,
  { selection, confidence, today, date, tags, full }: PostRequest,
  post: Document,
  places: readonly CardPlace[],
  { format, frontMatter, ground, site }: CardSetting,
  placed: (photos: readonly string[]) => Promise<ReadonlyMap<string, string>>,
): AsyncGenerator<CardPage> {
  const sources = oncePerSelection();
  const told = saidOf(post);
  for (const place of places) {
    const { cultivar, link, back } = place;
    const { seasons, crops } = selection;
    const asked = {
      ...{ cultivar, selection: { seasons, crops }, confidence, today },
      ...{ remarks: REMARKS, full },
    };
    const card = await cardOf(ledger, asked, sources);
    const description = [told.get(cultivar), ledger.trial.title].filter((part) => part).join(' ');
    const page = { ...card, published: { description, date, tags, front: ledger.trial.front } };
    const photos = await placed(photosOf(page).map(({ path }) => path));
    const links = new Map([...photos].map(([photo, from]) => [photo, `${back}${from}`]));
    const at = site === undefined ? {} : { site: new URL(link, site).href };
    const pictures = { drawn: new Map<string, string>(), links, ...at };
    yield { ...place, text: await renderPage(page, format, { pictures, frontMatter, ground }) };
  }
}

/** Notes of the seasons on a card. */
const REMARKS = 6;

/** Cards ask for the same ranks and verdicts, of all cultivars, which take long to work out. */
function oncePerSelection(): CardSources {
  const known = new Map<string, ReturnType<CardSources['rank']>>();
  const once =
    (name: string, report: CardSources['rank']): CardSources['rank'] =>
    (ledger, request) => {
      const asked = JSON.stringify([name, request]);
      const answer = known.get(asked) ?? report(ledger, request);
      known.set(asked, answer);
      return answer;
    };
  return { rank: once('rank', rankReport), verdict: once('verdict', verdictReport) };
}

/** What the post says of each cultivar in its list of them. */
function saidOf(post: Document): ReadonlyMap<string, string> {
  const cards = post.sections.find(({ key }) => key === 'cards');
  const facts = cards?.blocks.flatMap((block) => (block.kind === 'facts' ? block.facts : [])) ?? [];
  return new Map(facts.flatMap(({ cultivar, text }) => (cultivar ? [[cultivar, text]] : [])));
}
