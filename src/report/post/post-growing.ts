import { selectRecords } from '../../measure/crop-record.ts';
import { degreeDaysUntil } from '../../measure/degree-days-until.ts';
import type { Container, Cultivar, Tree } from '../../model/collection.ts';
import type { PartialDate } from '../../model/dates.ts';
import { COVER_WORDS, type Ledger } from '../../model/ledger.ts';
import { countColumn, dateColumn, numberColumn, textColumn } from '../columns.ts';
import { note } from '../common-notes.ts';
import { dayAndYear } from '../day-words.ts';
import type { Block, Section } from '../document.ts';
import { cultivarName, siteName } from '../names.ts';
import { textIn } from '../row-columns.ts';
import type { Column, Report, Row } from '../table.ts';
import { counted, listed } from '../words.ts';
import { rankedRows } from './post-ranks.ts';
import type { PostMaterial } from './post-request.ts';
import { tableBlock } from './post-tables.ts';

/** Place, seasons, and the trees of the ranked cultivars. */
export function growingSection(material: PostMaterial): Section {
  return {
    key: 'growing',
    heading: 'How it was grown',
    blocks: [
      { kind: 'paragraph', text: [placeSentence(material)] },
      ...seasonsBlock(material),
      ...treesBlock(material),
    ],
  };
}

function placeSentence({ ledger }: PostMaterial): string {
  const { place, pollinator, fruit } = ledger.trial;
  // A whole degree is enough for a reader to compare climates, and does not lead to the door.
  const degrees = place.latitude === undefined ? undefined : Math.round(Math.abs(place.latitude));
  const parts = [
    place.name,
    place.climate === undefined ? undefined : `climate ${place.climate}`,
    degrees === undefined
      ? undefined
      : `about ${degrees} degrees ${(place.latitude ?? 0) < 0 ? 'south' : 'north'}`,
  ].filter((part) => part !== undefined);
  const where = parts.length === 0 ? 'The ledger does not say where.' : `${parts.join(', ')}.`;
  if (fruit !== 'fig') return where;
  const wasp =
    pollinator === 'absent'
      ? 'No pollinator lives here, so only fruit that sets without one ripens.'
      : 'The pollinator is present, so fruit that needs it can set.';
  return `${where} ${wasp}`;
}

/** Trees of the selection by site, in words. */
export function treesBySite({ ledger, request }: Pick<PostMaterial, 'ledger' | 'request'>): string {
  const records = selectRecords(ledger, request.selection);
  const sites = [...ledger.trial.sites.values()].flatMap(({ key, cover }) => {
    const trees = new Set(records.filter(({ site }) => site === key).map(({ tree }) => tree));
    return trees.size === 0
      ? []
      : [`${counted(trees.size, 'tree')} ${COVER_WORDS[cover]} (${siteName(ledger, key)})`];
  });
  return listed(sites, 12);
}

/** Frost, cold and warmth of each season, as far as the ledger has them. */
function seasonsBlock({ ledger, seasons, crops }: PostMaterial): readonly Block[] {
  const rows = seasons.map((season): Row => {
    const days = ledger.weather.get(season) ?? [];
    const lows = days.flatMap(({ tmin }) => (tmin === undefined ? [] : [tmin]));
    const frost = ledger.trial.frost.get(season);
    const warmth = frost === undefined ? undefined : degreeDaysUntil(ledger, season, frost);
    return {
      season: String(season),
      coldest: lows.length === 0 ? null : Math.min(...lows),
      days: lows.length,
      frost: frost ?? null,
      degreeDays: warmth?.known === true ? warmth.degreeDays : null,
    };
  });
  const isKnown = rows.some(({ coldest, frost }) => coldest !== null || frost !== null);
  if (!isKnown) return [];
  const { base } = ledger.trial.degreeDays;
  const columns: Column[] = [
    textColumn('season', { label: 'Season', drop: 0 }),
    numberColumn('coldest', 1, { label: 'Lowest', unit: 'degC', drop: 0 }),
    dateColumn('frost', { label: 'First autumn frost', drop: 0 }),
    numberColumn('degreeDays', 0, { label: 'Degree-days to it', unit: 'degC d', drop: 0 }),
    countColumn('days', { label: 'Days measured', drop: 0 }),
  ];
  const notes = rows.some(({ degreeDays }) => degreeDays !== null)
    ? [note('method', `Degree-days over ${base} °C from the start of the growing year.`)]
    : [];
  return [tableBlock(ledger, { ...crops, columns }, { caption: 'The seasons', rows, notes })];
}

/** A row for each ranked cultivar, its trees condensed. */
function treesBlock(material: PostMaterial): readonly Block[] {
  const { ledger, request, ranks } = material;
  const names = new Set(rankedRows(ranks.rows).map((row) => textIn(row, 'cultivar')));
  const records = selectRecords(ledger, request.selection);
  const cultivars = [...ledger.cultivars.values()].filter((one) =>
    names.has(cultivarName(ledger, one)),
  );
  const rows = cultivars.flatMap((cultivar): Row[] => {
    const trees = [...ledger.trees.values()].filter(
      (tree) => tree.cultivar === cultivar && records.some((record) => record.tree === tree),
    );
    if (trees.length === 0) return [];
    return [treesRow(material, cultivar, trees)];
  });
  if (rows.length === 0) return [];
  const report: Report = {
    ...ranks,
    columns: [
      textColumn('cultivar', { label: 'Cultivar', drop: 0 }),
      countColumn('trees', { label: 'Trees', drop: 0 }),
      textColumn('grown', { label: 'Where, in what, and how old', drop: 0 }),
    ],
  };
  const notes = [
    note(
      'method',
      'Years since planting, or else since arrival, in the last season, or when it was removed.',
    ),
  ];
  return [tableBlock(ledger, report, { caption: 'Trees of the ranked cultivars', rows, notes })];
}

function treesRow(
  { ledger, request, seasons }: PostMaterial,
  cultivar: Cultivar,
  trees: readonly Tree[],
): Row {
  const records = selectRecords(ledger, request.selection);
  const grown = trees.map((tree) => {
    const sites = new Set(
      records.filter((record) => record.tree === tree).map(({ site }) => siteName(ledger, site)),
    );
    const last = seasons.at(-1) ?? 0;
    const parts = [
      [...sites].join(' and '),
      containerWords(lastContainer(ledger, tree, last)),
      ageWords(tree, last),
      tree.rootstock === undefined ? '' : `on ${tree.rootstock}`,
      tree.removed === undefined ? '' : `removed ${dayAndYear(tree.removed.text)}`,
    ];
    return parts.filter((part) => part !== '').join(', ');
  });
  return {
    cultivar: cultivarName(ledger, cultivar),
    trees: trees.length,
    grown: grown.join('; '),
  };
}

/** What a tree stood in at the end of a season: the last repotting counts. */
function lastContainer(ledger: Ledger, tree: Tree, season: number): Container | undefined {
  const repottings = ledger.seasons
    .filter(({ year }) => year <= season)
    .flatMap(({ events }) => events)
    .flatMap((event) =>
      event.kind === 'repot' &&
      event.container !== undefined &&
      event.target.kind === 'tree' &&
      event.target.tree === tree
        ? [{ on: event.on, container: event.container }]
        : [],
    )
    .toSorted((a, b) => (a.on < b.on ? -1 : a.on > b.on ? 1 : 0));
  return repottings.at(-1)?.container ?? tree.container;
}

function containerWords(container: Container | undefined): string {
  if (container === undefined) return '';
  return container.kind === 'ground' ? 'in the ground' : `pot of ${container.text}`;
}

function yearOf({ earliest }: PartialDate): number {
  return Number(earliest.slice(0, 4));
}

function ageWords({ planted, received, removed }: Tree, season: number): string {
  const since = planted ?? received;
  if (since === undefined) return 'age not known';
  const until = removed === undefined ? season : Math.min(season, yearOf(removed));
  const years = until - yearOf(since);
  return years < 1 ? 'first year' : counted(years, 'year');
}
