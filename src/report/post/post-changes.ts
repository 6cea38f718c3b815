import { openSeason } from '../../measure/under-way.ts';
import type { Crop, Ledger } from '../../model/ledger.ts';
import { CROPS } from '../../model/ledger.ts';
import { countColumn, numberColumn, textColumn } from '../columns.ts';
import { cropHeading } from '../crop-words.ts';
import type { Block, Section } from '../document.ts';
import { overlap } from '../figures/figure-ranks.ts';
import { rankReport } from '../judged/rank-report.ts';
import { numberIn, textIn } from '../row-columns.ts';
import type { Cell, Column, Report, Row } from '../table.ts';
import { rankedRows } from './post-ranks.ts';
import type { PostMaterial, PostRequest } from './post-request.ts';
import { rowsOf, tableBlock } from './post-tables.ts';

/** The season before a season for which the ledger has entries. */
function seasonBefore(ledger: Ledger, season: number): number | undefined {
  return ledger.seasons.findLast(({ year }) => year < season)?.year;
}

/** The rank by one season's entries alone. */
async function seasonRanks(
  ledger: Ledger,
  { selection, confidence }: PostRequest,
  season: number,
): Promise<Report> {
  return rankReport(ledger, {
    selection: { ...selection, seasons: [season] },
    by: [],
    confidence,
  });
}

/** The ranks of the last season alone beside those of the season before; undefined with one season. */
export async function changesSection(material: PostMaterial): Promise<Section | undefined> {
  const { ledger, request, seasons } = material;
  const now = seasons.at(-1);
  const before = now === undefined ? undefined : seasonBefore(ledger, now);
  if (now === undefined || before === undefined) return undefined;
  const newer = await seasonRanks(ledger, request, now);
  const isOpen = openSeason(ledger, request.today) === now;
  if (isOpen && rankedRows(newer.rows).length === 0) return undefined;
  const older = await seasonRanks(ledger, request, before);
  const blocks = CROPS.flatMap((crop) => cropBlocks(material, crop, [before, older], [now, newer]));
  if (blocks.length === 0) return undefined;
  return {
    key: 'changes',
    heading: `What changed since ${before}`,
    blocks: [
      {
        kind: 'paragraph',
        text: [
          `Ranks by the entries of ${now} alone, beside those of ${before} alone. One season is little evidence: places move by luck as well as by merit, and where the two intervals overlap, nothing has changed that could be told from luck. New and out: of the top ${request.top}; without a rank: some part of the index was missing that year.${
            isOpen ? ` ${now} is not over, so its ranks may still change.` : ''
          }`,
        ],
      },
      ...blocks,
    ],
  };
}

type SeasonRanks = readonly [season: number, report: Report];

function cropBlocks(
  { ledger, request }: PostMaterial,
  crop: Crop,
  [before, older]: SeasonRanks,
  [now, newer]: SeasonRanks,
): readonly Block[] {
  const was = rankedRows(rowsOf(older, crop));
  const is = rankedRows(rowsOf(newer, crop));
  const isTop = (row: Row) => (numberIn(row, 'rank') ?? Number.POSITIVE_INFINITY) <= request.top;
  const names = new Set(
    [...is.filter(isTop), ...was.filter(isTop)].map((row) => textIn(row, 'cultivar')),
  );
  if (names.size === 0) return [];
  const heading = cropHeading(ledger, crop);
  if (was.length === 0 || is.length === 0) {
    const none = was.length === 0 ? before : now;
    return [{ kind: 'paragraph', text: [`${heading}: nothing could be ranked by ${none} alone.`] }];
  }
  const rows = [...names].map((name) => changeRow(name, crop, request.top, was, is));
  const report = { ...newer, columns: columns(before, now) };
  return [tableBlock(ledger, report, { caption: `${heading}: ${before} and ${now}`, rows })];
}

function columns(before: number, now: number): readonly Column[] {
  return [
    textColumn('cultivar', { label: 'Cultivar', drop: 0 }),
    countColumn('rankBefore', { label: `Rank ${before}`, drop: 0 }),
    countColumn('rankNow', { label: `Rank ${now}`, drop: 0 }),
    textColumn('change', { label: 'Change', drop: 0 }),
    numberColumn('indexBefore', 1, { label: `Index ${before}`, drop: 1 }),
    numberColumn('indexNow', 1, { label: `Index ${now}`, drop: 1 }),
    textColumn('beyondLuck', { label: 'Intervals', drop: 1 }),
  ];
}

function changeRow(
  name: string,
  crop: Crop,
  top: number,
  was: readonly Row[],
  is: readonly Row[],
): Row {
  const named = (row: Row) => row['cultivar'] === name;
  const old = was.find(named);
  const own = is.find(named);
  const rankBefore = old === undefined ? undefined : numberIn(old, 'rank');
  const rankNow = own === undefined ? undefined : numberIn(own, 'rank');
  return {
    cultivar: name,
    crop,
    rankBefore: rankBefore ?? null,
    rankNow: rankNow ?? null,
    change: changeWords(rankBefore, rankNow, top),
    indexBefore: old?.['index'] ?? null,
    indexNow: own?.['index'] ?? null,
    beyondLuck: intervalWords(old, own),
  };
}

function changeWords(before: number | undefined, now: number | undefined, top: number): string {
  if (now === undefined || now > top) return 'out';
  if (before === undefined || before > top) return 'new';
  if (now === before) return 'same';
  return now < before ? `up ${before - now}` : `down ${now - before}`;
}

function intervalWords(old: Row | undefined, own: Row | undefined): Cell {
  if (old === undefined || own === undefined) return null;
  const ends = (row: Row) => ({ low: numberIn(row, 'low'), high: numberIn(row, 'high') });
  if (ends(old).low === undefined || ends(own).low === undefined) return null;
  return overlap(ends(old), ends(own)) ? 'overlap' : 'apart';
}
