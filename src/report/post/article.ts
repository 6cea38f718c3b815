import { treePhotos } from '../../judge/photos.ts';
import { VERDICTS, type Verdict } from '../../judge/verdict/verdict.ts';
import { selectRecords } from '../../measure/crop-record.ts';
import { groupBy } from '../../measure/group-by.ts';
import { COVER_WORDS, type Ledger } from '../../model/ledger.ts';
import { siteOn } from '../../model/standing.ts';
import { cropHeading, placePhrase } from '../crop-words.ts';
import { dayInWords, soFarSentence } from '../day-words.ts';
import { type Block, type Fact, paragraph, type Section } from '../document.ts';
import { ranksFigureOf } from '../figures/figure-ranks.ts';
import { indexInWords } from '../index-words.ts';
import { markedName, VERDICT_WORDS } from '../names.ts';
import { inTenths, numberWord } from '../number-words.ts';
import { photoBlock } from '../photo-words.ts';
import { counted, listed, sentence, yearsInWords } from '../words.ts';
import type { ArticlePlace, JudgedAtPlace, JudgedPlace } from './article-places.ts';
import type { PostRequest } from './post-request.ts';
import { tasterNumberWords, tastingTotals } from './post-tastings.ts';

/** What is told of in an article. */
export interface ArticleMaterial {
  readonly ledger: Ledger;
  readonly request: PostRequest;
  readonly seasons: readonly number[];
  readonly places: readonly ArticlePlace[];
  /** What all seasons say, where the article is of some of them alone. */
  readonly overall:
    | { readonly seasons: readonly number[]; readonly places: readonly JudgedPlace[] }
    | undefined;
}

/** Place, climate, years, and what was compared: the first question of a neighbour. */
export function leadSection(material: ArticleMaterial): Section {
  const { ledger, request, overall } = material;
  const records = selectRecords(ledger, request.selection);
  const cultivars = new Set(records.map(({ tree }) => tree.cultivar));
  const { name, climate, latitude } = ledger.trial.place;
  // A whole degree is enough for a reader to compare climates, and does not lead to the door.
  const degrees =
    latitude === undefined
      ? undefined
      : `${Math.round(Math.abs(latitude))}° ${latitude < 0 ? 'S' : 'N'}`;
  const wasp =
    ledger.trial.fruit === 'fig' && ledger.trial.pollinator === 'absent'
      ? 'no fig wasp'
      : undefined;
  const what = [degrees, climate, wasp].filter((part) => part !== undefined).join(', ');
  const where = `${name === undefined ? ' here' : ` at ${name}`}${what === '' ? '' : ` (${what})`}`;
  const many = cultivars.size === 1 ? 'cultivar' : 'cultivars';
  const stood =
    overall === undefined
      ? `${many} ${cultivars.size === 1 ? 'has' : 'have'} stood${where} for ${seasonsInWords(material)}`
      : `${many} stood${where} ${whenInWords(material)}`;
  const soFar = soFarSentence(ledger, request, records);
  return {
    key: 'lead',
    heading: '',
    blocks: [
      paragraph(
        `${sentence(numberWord(cultivars.size))} ${ledger.trial.fruit} ${stood}: ${treesInWords(ledger, request)}. ${answers(material)}`,
        ...(soFar === undefined ? [] : [` ${soFar}`]),
      ),
    ],
  };
}

/** "three seasons, 2024 to 2026" */
function seasonsInWords({ seasons }: Pick<ArticleMaterial, 'seasons'>): string {
  const count = seasons.length === 1 ? 'season' : 'seasons';
  return `${numberWord(seasons.length)} ${count}, ${yearsInWords(seasons)}`;
}

/** "in 2026", "for two seasons, 2025 to 2026" */
function whenInWords(of: Pick<ArticleMaterial, 'seasons'>): string {
  return of.seasons.length === 1 ? `in ${yearsInWords(of.seasons)}` : `for ${seasonsInWords(of)}`;
}

/** What to plant, by all seasons even where the article is of some. */
function answers({ ledger, seasons, places, overall }: ArticleMaterial): string {
  if (overall === undefined) return answer(ledger, places, '');
  const by = `, by all ${seasonsInWords(overall)}`;
  return `${answer(ledger, overall.places, by)} What follows rests on ${yearsInWords(seasons)} alone.`;
}

/** What to plant, in a sentence; where nothing is proven, what is good so far. */
function answer(ledger: Ledger, places: readonly JudgedPlace[], by: string): string {
  const best = bestOf(ledger, places, 'increase');
  if (best !== '') return `What we would plant${by}: ${best}.`;
  const good = bestOf(ledger, places, 'retain');
  const none = `Nothing is proven worth planting yet${by}`;
  return good === '' ? `${none}.` : `${none}; good here so far: ${good}.`;
}

/** As many are named of a place. */
const MOST_NAMED = 2;

/** "Glasswright and Slate Quay for the main crop under glass; ..."; empty where none has that verdict. */
export function bestOf(ledger: Ledger, places: readonly JudgedPlace[], verdict: Verdict): string {
  const words = places.flatMap((place) => {
    const names = place.judged
      .filter((one) => one.verdict === verdict)
      .slice(0, MOST_NAMED)
      .map(({ name }) => markedName(ledger, name));
    return names.length === 0 ? [] : [`${listed(names)} for the ${placePhrase(ledger, place)}`];
  });
  return words.join('; ');
}

/** "7 trees under glass and 25 in the open"; a tree that was moved counts where it was last. */
function treesInWords(ledger: Ledger, request: PostRequest): string {
  const last = new Map(
    selectRecords(ledger, request.selection)
      .toSorted((a, b) => a.season - b.season)
      .map(({ tree, site }) => [tree, ledger.trial.sites.get(site)?.cover]),
  );
  const covers = [...groupBy([...last.values()], (cover) => cover)].flatMap(([cover, trees]) =>
    cover === undefined ? [] : [{ trees: trees.length, words: COVER_WORDS[cover] }],
  );
  return listed(
    covers.map(({ trees, words }, at) => `${at === 0 ? counted(trees, 'tree') : trees} ${words}`),
  );
}

/** What to do with each cultivar, a section a crop and cover. */
export function placeSections(material: ArticleMaterial): readonly Section[] {
  const drawn = widest(material.places);
  return material.places.map((place): Section => {
    const { crop, cover } = place;
    const figure = place === drawn ? figureOf(material, place) : undefined;
    return {
      key: cover === undefined ? crop : `${crop}${sentence(cover)}`,
      heading: placeHeading(material.ledger, place),
      blocks: [
        ...verdictBlocks(place.judged, (own, verdict) =>
          standingBlocks(material, place, own, verdict),
        ),
        ...doubtBlocks(material.ledger, place),
        ...untastedBlocks(place),
        ...(figure === undefined ? [] : [{ kind: 'figure', figure } as const]),
      ],
    };
  });
}

/** "Main crop, under glass". */
export function placeHeading(ledger: Ledger, { crop, cover }: ArticlePlace): string {
  const heading = cropHeading(ledger, crop);
  return cover === undefined ? heading : `${heading}, ${COVER_WORDS[cover]}`;
}

/** What is told under each verdict that any has. */
export function verdictBlocks<One extends { readonly verdict: Verdict }>(
  judged: readonly One[],
  told: (own: readonly One[], verdict: Verdict) => readonly Block[],
): readonly Block[] {
  return VERDICTS.flatMap((verdict): readonly Block[] => {
    const own = judged.filter((one) => one.verdict === verdict);
    const heading: Block = { kind: 'subheading', text: VERDICT_WORDS[verdict] };
    if (own.length > 0) return [heading, ...told(own, verdict)];
    // Where nothing is even good, that is an answer too.
    const isNone =
      verdict === 'increase' &&
      judged.every((one) => !['increase', 'retain'].includes(one.verdict));
    return isNone ? [heading, paragraph('None proven yet.')] : [];
  });
}

function standingBlocks(
  { ledger, request }: ArticleMaterial,
  place: ArticlePlace,
  own: readonly JudgedAtPlace[],
  verdict: Verdict,
): readonly Block[] {
  if (verdict === 'watch') return [paragraph(watched(ledger, place, own))];
  const facts = own.map(
    (one): Fact => ({
      label: markedName(ledger, one.name),
      text: pictured(one),
      cultivar: one.cultivar.key,
    }),
  );
  const photos = verdict === 'discard' ? [] : photosOf(ledger, request, place, own);
  return [{ kind: 'facts', facts }, ...photos];
}

/** As many photos stand under one heading. */
const MOST_PHOTOS = 2;

/** The latest photo of fruit of each, from where it is told of. */
function photosOf(
  ledger: Ledger,
  { selection }: PostRequest,
  { crop, cover }: ArticlePlace,
  own: readonly JudgedAtPlace[],
): readonly Block[] {
  const photos = treePhotos(ledger, selection).filter(
    ({ on, tree, ...photo }) =>
      photo.crop === crop &&
      (cover === undefined || ledger.trial.sites.get(siteOn(ledger, tree, on))?.cover === cover),
  );
  return own
    .flatMap(({ cultivar }) => photos.findLast(({ tree }) => tree.cultivar === cultivar) ?? [])
    .slice(0, MOST_PHOTOS)
    .map((photo) => photoBlock(ledger, photo));
}

/** "half picked by 8 August, 59 g, 90 % sound; melon, fresh." */
function pictured({ half, weight, sound, words }: JudgedAtPlace): string {
  const figures = [
    half === undefined ? '' : `half picked by ${dayInWords(half)}`,
    weight === undefined ? '' : `${weight.toFixed(0)} g`,
    sound === undefined ? '' : `${(100 * sound).toFixed(0)} % sound`,
  ].filter((part) => part !== '');
  const taste = (words?.words ?? []).slice(0, MOST_WORDS).map(({ word }) => word);
  return `${[figures.join(', '), taste.join(', ')].filter((part) => part !== '').join('; ')}.`;
}

const MOST_WORDS = 2;

/** As many are named of those that are watched: the figures name the rest. */
const MOST_WATCHED = 3;

/** The most promising by name, with what they wait for. */
function watched(ledger: Ledger, place: ArticlePlace, own: readonly JudgedAtPlace[]): string {
  const named = own.slice(0, MOST_WATCHED);
  const groups = [...groupBy(named, (one) => waitsFor(ledger, place, one))].map(
    ([why, those]) => `${listed(those.map(({ name }) => markedName(ledger, name)))} (${why})`,
  );
  const more = own.length - named.length;
  return `${groups.join('; ')}${more === 0 ? '' : `; and ${more} more`}.`;
}

function waitsFor(
  ledger: Ledger,
  { cover }: ArticlePlace,
  { rule, seasonsMissing, everywhere }: JudgedAtPlace,
): string {
  const { minSeasons, minTastings } = ledger.trial.verdict;
  if (rule === 'not-ranked') return 'not judged yet';
  if (rule === 'young-trees') return 'trees still young';
  if (rule === 'spans-discard') return 'may go either way';
  // What was seen often enough in all is told of elsewhere as such: here it is the place that wants more.
  const there = (all: number, least: number) =>
    cover !== undefined && all >= least ? ` ${COVER_WORDS[cover]}` : '';
  if (seasonsMissing > 0) return `too few seasons${there(everywhere.seasons, minSeasons)}`;
  if (everywhere.tastings === 0) return 'not tasted yet';
  return `too few tastings${there(everywhere.tastings, minTastings)}`;
}

/** The one yardstick of doubt: the chance to be truly the best of the place. */
function doubtBlocks(ledger: Ledger, { judged }: ArticlePlace): readonly Block[] {
  const ranked = judged.flatMap((one) =>
    one.firstShare === undefined ? [] : [{ ...one, chance: one.firstShare }],
  );
  const [best] = ranked.toSorted((a, b) => b.chance - a.chance);
  if (best === undefined || ranked.length < 2) return [];
  // Else a reader would wonder why what is likeliest the best is not named first.
  const early = best.verdict === 'watch' ? ' (still watched)' : '';
  return [
    paragraph(
      `Truly the best here${early}: ${markedName(ledger, best.name)}, ${inTenths(best.chance)}.`,
    ),
  ];
}

/** Under a cover where nobody tasted, the index rests on what it and others tasted like elsewhere. */
function untastedBlocks({ cover, judged }: ArticlePlace): readonly Block[] {
  const ranked = judged.filter(({ index }) => index !== undefined);
  const isTasted = ranked.some(({ tastings }) => tastings > 0);
  if (cover === undefined || ranked.length === 0 || isTasted) return [];
  return [
    paragraph(
      `Nothing was tasted ${COVER_WORDS[cover]}: how it tastes is told from fruit that stood elsewhere.`,
    ),
  ];
}

/** The place of which most is drawn. */
function widest(places: readonly ArticlePlace[]): ArticlePlace | undefined {
  const count = ({ judged }: ArticlePlace) =>
    judged.filter(({ index }) => index !== undefined).length;
  return places.reduce<ArticlePlace | undefined>(
    (most, place) => (most === undefined || count(place) > count(most) ? place : most),
    undefined,
  );
}

function figureOf({ ledger, request }: ArticleMaterial, place: ArticlePlace) {
  const rows = place.judged
    .filter(({ index }) => index !== undefined)
    .map(({ name, crop, rank, index, low, high }) => ({
      cultivar: name,
      crop,
      rank: rank ?? null,
      index: index ?? null,
      low: low ?? null,
      high: high ?? null,
      letters: null,
    }));
  const figure = ranksFigureOf(ledger, rows, { confidence: request.confidence, top: undefined });
  return figure === undefined || place.cover === undefined
    ? figure
    : {
        ...figure,
        key: `${figure.key}-${place.cover}`,
        title: `${figure.title}, ${COVER_WORDS[place.cover]}`,
      };
}

/** From where on an index is called good. */
export function marksParagraph({ trial }: Ledger): Block {
  const { increaseAbove, discardBelow } = trial.verdict;
  return paragraph(
    `${VERDICT_WORDS.increase}: the whole interval of the index is above ${increaseAbove}; ${VERDICT_WORDS.retain.toLowerCase()}: above ${discardBelow}; ${VERDICT_WORDS.discard.toLowerCase()}: below it.`,
  );
}

/** On how much all this rests, and how large a difference may be luck. */
export function restsOnSection(material: ArticleMaterial): Section {
  const { ledger, request, places } = material;
  const records = selectRecords(ledger, request.selection);
  const trees = new Set(records.map(({ tree }) => tree));
  const picked = records.reduce((sum, record) => sum + record.picked, 0);
  const tasted = tastingTotals(ledger, request);
  const halves = places
    .flatMap(({ judged }) => judged)
    .flatMap(({ low, high }) => (low === undefined || high === undefined ? [] : [(high - low) / 2]))
    .toSorted((a, b) => a - b);
  const middle = halves[Math.floor(halves.length / 2)];
  const rests = [
    counted(trees.size, 'tree'),
    `${picked.toLocaleString('en-GB')} fruit picked`,
    counted(tasted.sittings, 'sitting'),
    tasterNumberWords(tasted.tasters, request.nameTasters),
  ];
  return {
    key: 'restsOn',
    heading: 'What this rests on',
    blocks: [
      paragraph(
        `${rests.join(', ')}. ${indexInWords(ledger)}`,
        ...(middle === undefined ? [] : [`, known to about ${middle.toFixed(1)} either way`]),
        '.',
      ),
      // Else they stand with the tables of the article.
      ...(request.full ? [marksParagraph(ledger)] : []),
    ],
  };
}
