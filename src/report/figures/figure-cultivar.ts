import type { Cultivar } from '../../model/collection.ts';
import { dateOfDay, dayNumber, daysBetween, growingYear, parseIsoDate } from '../../model/dates.ts';
import type { Ledger } from '../../model/ledger.ts';
import { CROPS } from '../../model/ledger.ts';
import { cropHeading } from '../crop-words.ts';
import { dayInWords } from '../day-words.ts';
import { rankReport } from '../judged/rank-report.ts';
import { ripeningReport } from '../measured/ripening-report.ts';
import { weightsReport } from '../measured/weights-report.ts';
import { yieldReport } from '../measured/yield-report.ts';
import { cultivarName, markedName } from '../names.ts';
import { decimal, joined, type Prose } from '../prose.ts';
import type { ReportRequest } from '../report-request.ts';
import { percent } from '../report-request.ts';
import { numberIn, textIn } from '../row-columns.ts';
import type { Row } from '../table.ts';
import { yearsInWords } from '../words.ts';
import type { CultivarFigure, CultivarPanel, SeasonLine } from './figure.ts';

/** Keys of a figure and its interval in the rows of a report. */
type Keys = readonly [value: string, low: string, high: string];

/**
 * One cultivar over the years: index, fruit per branch, fruit weight, and when half was picked.
 * The index of a season is that of the cultivar among all others of that season. Undefined where
 * there is nothing to draw.
 */
export async function cultivarFigure(
  ledger: Ledger,
  request: ReportRequest,
  cultivar: Cultivar,
): Promise<CultivarFigure | undefined> {
  const asked = request.selection.seasons ?? [];
  const seasons = ledger.seasons
    .map(({ year }) => year)
    .filter((year) => asked.length === 0 || asked.includes(year));
  const name = cultivarName(ledger, cultivar);
  const rows = await seasonRows(ledger, request, cultivar, seasons);
  const { low, high } = ledger.trial.scale;
  const panel = (heading: string, own: readonly SeasonRow[], keys: Keys): CultivarPanel => ({
    heading,
    values: 'number',
    seasons,
    lines: linesOf(own, (row) => spot(row, keys)),
  });
  const panels = [
    {
      ...panel(`Index (${low} to ${high})`, rows.rank, ['index', 'low', 'high']),
      domain: [low, high] as const,
    },
    panel('Fruit a branch', rows.yields, [
      'fruitPerBranch',
      'fruitPerBranchLow',
      'fruitPerBranchHigh',
    ]),
    panel('Mean fruit weight (g)', rows.weights, ['mean', 'low', 'high']),
    ripePanel(ledger, rows.ripening, seasons),
  ].filter(({ lines }) => lines.length > 0);
  if (panels.length === 0) return undefined;
  const title = `${markedName(ledger, name)}, ${yearsInWords(seasons)}`;
  return {
    kind: 'cultivar',
    key: `cultivar-${cultivar.key}`,
    title,
    reading: reading(ledger, panels, request.confidence),
    alt: [`${title}, by season: ${panels.map(({ heading }) => heading.toLowerCase()).join(', ')}.`],
    description: joined(panels.flatMap((one) => told(ledger, one))),
    panels,
  };
}

interface SeasonRow {
  readonly season: number;
  readonly row: Row;
}

async function seasonRows(
  ledger: Ledger,
  { selection, confidence, today }: ReportRequest,
  { key }: Cultivar,
  seasons: readonly number[],
) {
  const rank: SeasonRow[] = [];
  const yields: SeasonRow[] = [];
  const weights: SeasonRow[] = [];
  const ripening: SeasonRow[] = [];
  const cultivar = ledger.cultivars.get(key);
  const name = cultivar === undefined ? key : cultivarName(ledger, cultivar);
  for (const season of seasons) {
    const own = {
      selection: { ...selection, seasons: [season], cultivars: [key] },
      confidence,
      today,
    };
    const all = { selection: { ...selection, seasons: [season], cultivars: [] }, confidence };
    const ranked = await rankReport(ledger, { ...all, by: [] });
    const by = ['cultivar'] as const;
    const keep = (rows: readonly Row[]) =>
      rows.filter((row) => row['cultivar'] === name).map((row) => ({ season, row }));
    rank.push(...keep(ranked.rows));
    yields.push(...keep(yieldReport(ledger, { ...own, by }).rows));
    weights.push(...keep(weightsReport(ledger, { ...own, by }).rows));
    ripening.push(...keep(ripeningReport(ledger, { ...own, by }).rows));
  }
  return { rank, yields, weights, ripening };
}

interface Spot {
  readonly value: number;
  readonly low: number | undefined;
  readonly high: number | undefined;
}

function spot({ row }: SeasonRow, [value, low, high]: Keys): Spot | undefined {
  const middle = numberIn(row, value);
  if (middle === undefined) return undefined;
  return { value: middle, low: numberIn(row, low), high: numberIn(row, high) };
}

function linesOf(
  rows: readonly SeasonRow[],
  spotOf: (row: SeasonRow) => Spot | undefined,
): readonly SeasonLine[] {
  return CROPS.flatMap((crop) => {
    const points = rows
      .filter(({ row }) => row['crop'] === crop)
      .flatMap((one) => {
        const found = spotOf(one);
        return found === undefined ? [] : [{ season: one.season, ...found }];
      });
    return points.length === 0 ? [] : [{ crop, points }];
  });
}

/** Half-picked days, all of them moved into the growing year of the last season. */
function ripePanel(
  ledger: Ledger,
  rows: readonly SeasonRow[],
  seasons: readonly number[],
): CultivarPanel {
  const { latitude } = ledger.trial.place;
  const start = dayNumber(growingYear(seasons.at(-1) ?? 0, latitude).first);
  const spotOf = ({ season, row }: SeasonRow): Spot | undefined => {
    const day = parseIsoDate(textIn(row, 'p50'));
    if (day === undefined) return undefined;
    const value = start + daysBetween(growingYear(season, latitude).first, day);
    return { value, low: undefined, high: undefined };
  };
  return { heading: 'Half picked by', values: 'day', seasons, lines: linesOf(rows, spotOf) };
}

function reading(ledger: Ledger, panels: readonly CultivarPanel[], confidence: number): string {
  const lines = panels.flatMap((panel) => panel.lines);
  const words = CROPS.filter((crop) => lines.some((line) => line.crop === crop)).map((crop) =>
    crop === 'main'
      ? `Dots, full line: ${cropHeading(ledger, crop).toLowerCase()}.`
      : `Hollow squares, broken line: ${cropHeading(ledger, crop).toLowerCase()}.`,
  );
  const some = lines.some(({ points }) => points.some(({ low }) => low !== undefined));
  return [
    ...words,
    panels.some(({ values }) => values === 'day') ? 'Half picked by: the higher, the earlier.' : '',
    some ? `Upright lines: ${percent(confidence)} % intervals; a point without one has none.` : '',
  ]
    .filter((part) => part !== '')
    .join(' ');
}

function told(ledger: Ledger, panel: CultivarPanel): readonly Prose[] {
  return panel.lines.map(({ crop, points }) => {
    const each = points.map(({ season, value, low, high }): Prose => {
      if (panel.values === 'day') return [`${season} ${dayInWords(dateOfDay(value))}`];
      const figure: Prose = [`${season} `, decimal(value, 2)];
      return low === undefined || high === undefined
        ? figure
        : [...figure, ' (', decimal(low, 2), ' to ', decimal(high, 2), ')'];
    });
    return [
      `${panel.heading}, ${cropHeading(ledger, crop).toLowerCase()}: `,
      ...joined(each, '; '),
      '.',
    ];
  });
}
