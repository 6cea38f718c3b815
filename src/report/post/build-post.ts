import type { Verdict } from '../../judge/verdict/verdict.ts';
import { selectRecords } from '../../measure/crop-record.ts';
import { groupBy } from '../../measure/group-by.ts';
import type { Cultivar } from '../../model/collection.ts';
import { COVER_WORDS, type Ledger } from '../../model/ledger.ts';
import { emptyNote } from '../common-notes.ts';
import { cropPhrase } from '../crop-words.ts';
import { type Document, type Fact, paragraph, type Section } from '../document.ts';
import { rankReport } from '../judged/rank-report.ts';
import { cropsReport } from '../measured/crops-report.ts';
import { ripeningReport } from '../measured/ripening-report.ts';
import { soundnessReport } from '../measured/soundness-report.ts';
import { weightsReport } from '../measured/weights-report.ts';
import { yieldReport } from '../measured/yield-report.ts';
import { cultivarName, markedName, siteName, VERDICT_WORDS } from '../names.ts';
import { selectionWords } from '../report-request.ts';
import { counted, listed, sentence, yearsInWords } from '../words.ts';
import {
  type ArticleMaterial,
  bestOf,
  leadSection,
  placeSections,
  restsOnSection,
} from './article.ts';
import { type ArticlePlace, articlePlaces, judgedPlaces } from './article-places.ts';
import { figuresSection } from './article-tables.ts';
import { cautionsSection, harmsSection } from './post-cautions.ts';
import { changesSection } from './post-changes.ts';
import { growingSection } from './post-growing.ts';
import { ripeningSection, soundnessSection, yieldSection } from './post-harvest.ts';
import { doubtfulNamesSection, methodSection } from './post-method.ts';
import { rankTablesSection } from './post-ranks.ts';
import type { PostMaterial, PostRequest } from './post-request.ts';
import { summarySection } from './post-summary.ts';

/** A report for readers on the selected seasons: what to plant, on what that rests, and the figures. */
export async function buildPost(ledger: Ledger, request: PostRequest): Promise<Document> {
  const seasons = seasonsOf(ledger, request);
  const places = seasons.length === 0 ? [] : await articlePlaces(ledger, request);
  // Cards and tables at length are of the seasons asked for.
  const whole = { ...request, withCards: false, full: false, selection: everySeason(request) };
  const all = seasonsOf(ledger, whole);
  const overall =
    seasons.length > 0 && all.length > seasons.length
      ? { seasons: all, places: await judgedPlaces(ledger, whole) }
      : undefined;
  const article: ArticleMaterial = { ledger, request, seasons, places, overall };
  return {
    report: 'post',
    title: request.title ?? usualTitle(article),
    ledgerTitle: ledger.trial.title,
    selection: selectionWords(request, []),
    published: {
      description: descriptionOf(article),
      date: request.date,
      tags: request.tags,
      front: ledger.trial.front,
    },
    sections: seasons.length === 0 ? empty(article) : await written(article),
    notes: [],
  };
}

/** Seasons with entries in what is asked for, oldest first. */
function seasonsOf(ledger: Ledger, { selection }: PostRequest): readonly number[] {
  const seasons = selectRecords(ledger, selection).map(({ season }) => season);
  return [...new Set(seasons)].toSorted((a, b) => a - b);
}

function everySeason({ selection }: PostRequest): PostRequest['selection'] {
  return { ...selection, seasons: undefined };
}

async function written(article: ArticleMaterial): Promise<readonly Section[]> {
  const { ledger, request } = article;
  const figures = request.full ? await full(await gathered(ledger, request)) : undefined;
  return [
    leadSection(article),
    ...placeSections(article),
    restsOnSection(article),
    ...(figures ?? [
      harmsSection(ledger, request),
      figuresSection(article),
      doubtfulNamesSection(ledger, request),
    ]),
    request.withCards ? cardsSection(article) : undefined,
    ...licence(ledger),
  ].flatMap((section) => (section === undefined || section.blocks.length === 0 ? [] : [section]));
}

async function gathered(ledger: Ledger, request: PostRequest): Promise<PostMaterial> {
  const { selection, confidence, today } = request;
  const plain = { selection, confidence, today, by: ['cultivar'] as const };
  return {
    ledger,
    request,
    seasons: seasonsOf(ledger, request),
    ranks: await rankReport(ledger, { ...plain, by: [] }),
    crops: cropsReport(ledger, plain),
    yields: yieldReport(ledger, plain),
    weights: weightsReport(ledger, plain),
    soundness: soundnessReport(ledger, plain),
    ripening: ripeningReport(ledger, { ...plain, by: ['cultivar', 'season'] }),
  };
}

/** What stands behind the article, at length. */
async function full(material: PostMaterial): Promise<readonly (Section | undefined)[]> {
  return [
    summarySection(material),
    rankTablesSection(material),
    await changesSection(material),
    ripeningSection(material),
    yieldSection(material),
    soundnessSection(material),
    growingSection(material),
    doubtfulNamesSection(material.ledger, material.request),
    methodSection(material),
    cautionsSection(material),
  ];
}

function empty({ ledger, request }: ArticleMaterial): readonly Section[] {
  const why = emptyNote(ledger, request.selection).text;
  return [{ key: 'empty', heading: 'Nothing to report', blocks: [paragraph(why)] }];
}

function usualTitle({ ledger, request, seasons }: ArticleMaterial): string {
  const { crops = [], sites = [] } = request.selection;
  const parts = [
    yearsInWords(seasons),
    crops.length === 1 ? cropPhrase(ledger, crops.join()) : '',
    listed(sites.map((key) => siteName(ledger, key))),
  ].filter((part) => part !== '');
  return [ledger.trial.title, ...parts].join(', ');
}

function licence(ledger: Ledger): readonly Section[] {
  const { licence: name } = ledger.trial;
  if (name === undefined) return [];
  return [
    {
      key: 'licence',
      heading: 'Licence',
      blocks: [paragraph(`What was seen and measured here is under ${name}.`)],
    },
  ];
}

/** What lists of posts and share previews show: what is worth planting, and on what that rests. */
function descriptionOf(material: ArticleMaterial): string {
  const { ledger, request, seasons } = material;
  if (seasons.length === 0) return 'Nothing to report yet.';
  const trees = new Set(selectRecords(ledger, request.selection).map(({ tree }) => tree));
  const cultivars = new Set([...trees].map(({ cultivar }) => cultivar));
  const { name, climate } = ledger.trial.place;
  const where = [name, climate].filter((part) => part !== undefined).join(', ');
  const many = cultivars.size > 1 ? ' compared' : '';
  const what = `${counted(cultivars.size, 'cultivar')}${many} on ${counted(trees.size, 'tree')}`;
  const best = named(material, 'increase') || named(material, 'retain');
  return `${best}${what}, ${yearsInWords(seasons)}${where === '' ? '' : ` (${where})`}.`;
}

/** "Good here: Ferry Bell for the breba crop in the open. "; empty where there is none. */
function named({ ledger, places }: ArticleMaterial, verdict: Verdict): string {
  const words = bestOf(ledger, places, verdict);
  return words === '' ? '' : `${VERDICT_WORDS[verdict]}: ${words}. `;
}

/** Every cultivar of the article with what is said of it, as the way to its card. */
function cardsSection({ ledger, places }: ArticleMaterial): Section {
  const facts = [...ledger.cultivars.values()].flatMap((cultivar): Fact[] => {
    const words = verdictsOf(ledger, places, cultivar);
    if (words === '') return [];
    const label = markedName(ledger, cultivarName(ledger, cultivar));
    return [{ label, text: words, cultivar: cultivar.key }];
  });
  return { key: 'cards', heading: 'Each cultivar by itself', blocks: [{ kind: 'facts', facts }] };
}

/** "Good here for the breba crop in the open; otherwise still being watched." */
function verdictsOf(ledger: Ledger, places: readonly ArticlePlace[], cultivar: Cultivar): string {
  const own = places.flatMap(({ crop, cover, judged }) =>
    judged
      .filter((one) => one.cultivar === cultivar)
      .map(({ verdict }) => ({ verdict, crop, cover })),
  );
  const words = [...groupBy(own, ({ verdict }) => verdict)].map(([verdict, all]) => {
    const crops = [...groupBy(all, ({ crop }) => crop)].map(([crop, those]) => {
      const covers = those.flatMap(({ cover }) =>
        cover === undefined ? [] : [COVER_WORDS[cover]],
      );
      return [`the ${cropPhrase(ledger, crop)}`, listed(covers)].filter((part) => part).join(' ');
    });
    return { verdict, named: VERDICT_WORDS[verdict].toLowerCase(), where: crops.join(' and ') };
  });
  const [only, another] = words;
  if (only === undefined) return '';
  if (another === undefined) {
    return `${sentence(own.length === 1 ? `${only.named} for ${only.where}` : only.named)}.`;
  }
  // What is only watched is told last, and of that there is most.
  const told = words.filter(({ verdict }) => verdict !== 'watch');
  const rest = told.length < words.length ? [`otherwise ${VERDICT_WORDS.watch.toLowerCase()}`] : [];
  return `${sentence([...told.map(({ named, where }) => `${named} for ${where}`), ...rest].join('; '))}.`;
}
