import { selectRecords } from '../../measure/crop-record.ts';
import type { Selection } from '../../measure/selection.ts';
import type { Cultivar } from '../../model/collection.ts';
import type { Ledger } from '../../model/ledger.ts';
import { countColumn, intervalColumns, numberColumn, textColumn } from '../columns.ts';
import { cropWord, withCropWords } from '../crop-words.ts';
import { factsSection, type Section, tableSection } from '../document.ts';
import { cultivarName } from '../names.ts';
import { percent, type ReportRequest } from '../report-request.ts';
import { forPeople } from '../row-columns.ts';
import type { Column, Report, Row } from '../table.ts';
import { sentence, yearsInWords } from '../words.ts';

type Source = (ledger: Ledger, request: ReportRequest) => Report | Promise<Report>;

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
}

/** The cultivar's place among all others, by each season alone and by all of them. */
export async function ranksSection(
  ledger: Ledger,
  cultivar: Cultivar,
  request: ReportRequest,
  rank: CardSources['rank'],
): Promise<Section> {
  const seasons = seasonsOf(ledger, request);
  const spans = seasons.length > 1 ? [...seasons.map((year) => [year]), seasons] : [seasons];
  const told: Row[] = [];
  for (const span of spans) {
    if (span.length === 0) continue;
    const { crops } = request.selection;
    const report = await rank(ledger, {
      selection: { seasons: span, crops },
      by: [],
      confidence: request.confidence,
    });
    told.push(...ownRows(report, cultivarName(ledger, cultivar), yearsInWords(span, '-')));
  }
  const rows = told.toSorted((a, b) => cropPlace(a) - cropPlace(b));
  const columns = ranksColumns(request.confidence);
  return tableSection({
    key: 'ranks',
    heading: 'Rank over the years',
    table: { columns: withCropWords(ledger, {}, forPeople(columns, rows, ['season'])), rows },
    ifEmpty: 'Nothing to rank it by.',
  });
}

/** Seasons in which anything was written down of the cultivar's crops or taste. */
function seasonsOf(ledger: Ledger, { selection }: ReportRequest): readonly number[] {
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

function ownRows(report: Report, name: string, season: string): readonly Row[] {
  return report.rows
    .filter((row) => row['cultivar'] === name)
    .map((row) => ({
      crop: row['crop'] ?? null,
      season,
      ...Object.fromEntries(QUOTED.map((key) => [key, row[key] ?? null])),
      of: isRanked(row)
        ? report.rows.filter((one) => one['crop'] === row['crop'] && isRanked(one)).length
        : null,
    }));
}

function isRanked(row: Row): boolean {
  return (row['rank'] ?? null) !== null;
}

/** What a row takes over from the rank as it stands there. */
const QUOTED = ['rank', 'index', 'low', 'high', 'rankLow', 'rankHigh', 'trees', 'tastings', 'why'];

function ranksColumns(confidence: number): Column[] {
  const index = numberColumn('index', 1, { label: 'Index', drop: 0 });
  const likely = { label: `Ranks, ${percent(confidence)} %`, drop: 0 };
  return [
    textColumn('crop', { label: 'Crop', drop: 0 }),
    textColumn('season', { label: 'Season', drop: 0 }),
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

/** What is advised of each crop, and why; judged among all cultivars, as the verdict itself is. */
export async function verdictSection(
  ledger: Ledger,
  cultivar: Cultivar,
  { selection, confidence }: ReportRequest,
  verdict: NonNullable<CardSources['verdict']>,
): Promise<Section> {
  const { seasons, crops } = selection;
  const report = await verdict(ledger, { selection: { seasons, crops }, by: [], confidence });
  const rows = report.rows.filter((row) => row['cultivar'] === cultivarName(ledger, cultivar));
  const quoted = ['crop', 'verdict', 'rule', 'why', 'wanted'] as const;
  return factsSection({
    key: 'verdict',
    heading: 'Verdict',
    facts:
      rows.length === 0
        ? [{ label: '', text: 'None: nothing was counted, picked or tasted.' }]
        : rows.map(({ crop, verdict: advice, why, wanted }) => ({
            label: sentence(cropWord(ledger, String(crop))),
            text: [
              `${advice}${why === null || why === undefined ? '' : ` (${why})`}`,
              wanted === null || wanted === undefined ? '' : `would settle it: ${wanted}`,
            ]
              .filter((part) => part !== '')
              .join('; '),
          })),
    says: rows.map((row) => Object.fromEntries(quoted.map((key) => [key, row[key] ?? null]))),
  });
}
