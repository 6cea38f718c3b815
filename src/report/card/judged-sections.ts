import { VERDICTS } from '../../judge/verdict/verdict.ts';
import { selectRecords } from '../../measure/crop-record.ts';
import type { Selection } from '../../measure/selection.ts';
import type { Cultivar } from '../../model/collection.ts';
import { COVER_WORDS, COVERS, type Ledger } from '../../model/ledger.ts';
import { countColumn, intervalColumns, numberColumn, textColumn } from '../columns.ts';
import { cropPhrase, withCropWords } from '../crop-words.ts';
import { factsSection, type Section, tableSection } from '../document.ts';
import type { RankRequest } from '../judged/rank-notes.ts';
import { coverColumn } from '../judged/rank-report.ts';
import { cultivarName, VERDICT_WORDS } from '../names.ts';
import { percent, type ReportRequest } from '../report-request.ts';
import { forPeople } from '../row-columns.ts';
import type { Column, Report, Row } from '../table.ts';
import { sentence, yearsInWords } from '../words.ts';

type Source = (ledger: Ledger, request: RankRequest) => Report | Promise<Report>;

/** Reports that a card quotes. */
export interface CardSources {
  readonly rank: Source;
  /** Left out, the card gives no advice. */
  readonly verdict?: Source;
}

export interface CardRequest {
  /** Key of the cultivar. */
  readonly cultivar: string;
  /** Seasons and crops to tell of; the cultivar's own are added. */
  readonly selection: Pick<Selection, 'seasons' | 'crops'>;
  readonly confidence: number;
  /** As of a `ReportRequest`. */
  readonly today?: ReportRequest['today'];
  /** Remarks to show at most. */
  readonly remarks: number;
  /** Whether its rank in each season alone is told too, which takes long to work out. */
  readonly full: boolean;
}

/** What the judged sections of a card ask of its reports. */
export interface JudgedRequest extends ReportRequest {
  /** Whether it is judged under each cover too. */
  readonly byCover: boolean;
}

/** The cultivar's place among all others, over all covers and under each, and by each season alone where asked for. */
export async function ranksSection(
  ledger: Ledger,
  cultivar: Cultivar,
  { selection, confidence, byCover }: JudgedRequest,
  { rank }: CardSources,
  full: boolean,
): Promise<Section> {
  const { seasons = [], crops, cultivars } = selection;
  const asked = seasons.length > 0 ? seasons : ledger.seasons.map(({ year }) => year);
  const own = seasonsOf(ledger, { seasons: asked, crops, cultivars });
  const alone = full && asked.length > 1 ? own.map((year) => [year]) : [];
  const spans = own.length === 0 ? [] : [...alone, asked];
  const told: Row[] = [];
  for (const span of spans) {
    const plain = { selection: { seasons: span, crops }, by: [], confidence };
    const isWhole = span === asked;
    for (const apart of isWhole && byCover ? [false, true] : [false]) {
      const report = await rank(ledger, { ...plain, byCover: apart, bothWays: isWhole && byCover });
      told.push(...ownRows(report, cultivarName(ledger, cultivar), yearsInWords(span, '-')));
    }
  }
  const rows = told.toSorted((a, b) => cropPlace(a) - cropPlace(b)).filter(isNews);
  const columns = ranksColumns(confidence, byCover);
  return tableSection({
    key: 'ranks',
    heading: full ? 'Rank over the years' : 'Rank',
    table: { columns: withCropWords(ledger, {}, forPeople(columns, rows, ['season'])), rows },
    ifEmpty: 'Nothing to rank it by.',
  });
}

/** What cannot be ranked is told once, not for each cover again. */
function isNews(row: Row, at: number, rows: readonly Row[]): boolean {
  const isTold = (other: Row) =>
    other['crop'] === row['crop'] && other['season'] === row['season'] && !isRanked(other);
  return isRanked(row) || rows.findIndex(isTold) === at;
}

/** Seasons in which anything was written down of the cultivar's crops or taste. */
function seasonsOf(ledger: Ledger, selection: Selection): readonly number[] {
  const { cultivars = [], seasons = [] } = selection;
  const borne = selectRecords(ledger, selection).map(({ season }) => season);
  const tasted = ledger.seasons
    .filter(({ year }) => seasons.length === 0 || seasons.includes(year))
    .filter(({ tastings }) =>
      tastings.some(({ samples }) =>
        samples.some(({ tree }) => cultivars.includes(tree.cultivar.key)),
      ),
    )
    .map(({ year }) => year);
  return [...new Set([...borne, ...tasted])].toSorted((a, b) => a - b);
}

function cropPlace({ crop }: Row): number {
  return crop === 'early' ? 0 : 1;
}

/** All covers together come first. */
function coverPlace({ cover }: Row): number {
  return COVERS.map(String).indexOf(String(cover));
}

function ownRows(report: Report, name: string, season: string): readonly Row[] {
  return report.rows
    .filter((row) => row['cultivar'] === name)
    .map((row) => ({
      crop: row['crop'] ?? null,
      season,
      cover: row['cover'] ?? null,
      ...Object.fromEntries(QUOTED.map((key) => [key, row[key] ?? null])),
      of: isRanked(row)
        ? report.rows.filter((one) => isSamePlace(one, row) && isRanked(one)).length
        : null,
    }));
}

function isSamePlace(a: Row, b: Row): boolean {
  return a['crop'] === b['crop'] && a['cover'] === b['cover'];
}

function isRanked(row: Row): boolean {
  return (row['rank'] ?? null) !== null;
}

/** What a row takes over from the rank as it stands there. */
const QUOTED = ['rank', 'index', 'low', 'high', 'rankLow', 'rankHigh', 'trees', 'tastings', 'why'];

function ranksColumns(confidence: number, byCover: boolean): Column[] {
  const index = numberColumn('index', 1, { label: 'Index', drop: 0 });
  const likely = { label: `Ranks, ${percent(confidence)} %`, drop: 0 };
  return [
    textColumn('crop', { label: 'Crop', drop: 0 }),
    textColumn('season', { label: 'Season', drop: 0 }),
    ...(byCover ? [coverColumn()] : []),
    countColumn('rank', { label: 'Rank', drop: 0 }),
    countColumn('of', { label: 'Of', drop: 0 }),
    { ...countColumn('rankLow', likely), upTo: 'rankHigh' },
    countColumn('rankHigh', likely),
    index,
    ...intervalColumns({ ...index, digits: 1 }, ['low', 'high'], confidence, 0),
    countColumn('trees', { label: 'Trees', drop: 4 }),
    countColumn('tastings', { label: 'Tastings', drop: 5 }),
    textColumn('why', { label: 'Why not ranked', drop: 1 }),
  ];
}

/**
 * What is advised of each crop, and why, over all covers and under each, as the article on all of them tells it; judged
 * among all cultivars, as the verdict itself is.
 */
export async function verdictSection(
  ledger: Ledger,
  cultivar: Cultivar,
  { selection: { seasons, crops }, confidence, byCover }: JudgedRequest,
  verdict: NonNullable<CardSources['verdict']>,
): Promise<Section> {
  const plain = { selection: { seasons, crops }, by: [], confidence, bothWays: byCover };
  const name = cultivarName(ledger, cultivar);
  const told: Row[] = [];
  for (const apart of byCover ? [false, true] : [false]) {
    const { rows } = await verdict(ledger, { ...plain, byCover: apart });
    const own = rows.filter((row) => row['cultivar'] === name);
    // What could not be ranked belongs to no cover: it is told once.
    told.push(...own.filter(({ cover }) => !apart || (cover ?? null) !== null));
  }
  const rows = told.toSorted(
    (a, b) => cropPlace(a) - cropPlace(b) || coverPlace(a) - coverPlace(b),
  );
  const quoted = ['crop', 'cover', 'verdict', 'rule', 'why', 'wanted'] as const;
  return factsSection({
    key: 'verdict',
    heading: 'Verdict',
    facts:
      rows.length === 0
        ? [{ label: '', text: 'None: nothing was counted, picked or tasted.' }]
        : rows.map((row) => ({ label: placeLabel(ledger, row), text: adviceWords(row) })),
    says: rows.map((row) => Object.fromEntries(quoted.map((key) => [key, row[key] ?? null]))),
  });
}

/** "Main crop", "Main crop, under glass". */
function placeLabel(ledger: Ledger, { crop, cover }: Row): string {
  const place = COVERS.find((one) => one === cover);
  const words = [cropPhrase(ledger, String(crop)), ...(place ? [COVER_WORDS[place]] : [])];
  return sentence(words.join(', '));
}

/** "Worth planting (increase; all above 6.7)". */
function adviceWords({ verdict, why, wanted }: Row): string {
  const own = VERDICTS.find((one) => one === verdict);
  const reasons = [verdict, why].filter((part) => (part ?? null) !== null && part !== '');
  const advice = `${own === undefined ? '' : VERDICT_WORDS[own]} (${reasons.join('; ')})`;
  return (wanted ?? null) === null ? advice : `${advice}; would settle it: ${wanted}`;
}
