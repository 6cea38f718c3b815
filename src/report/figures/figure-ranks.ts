import type { Crop, Ledger } from '../../model/ledger.ts';
import { CROPS } from '../../model/ledger.ts';
import { cropHeading } from '../crop-words.ts';
import { rankReport } from '../judged/rank-report.ts';
import { markedName } from '../names.ts';
import { decimal, joined, type Prose } from '../prose.ts';
import type { ReportRequest } from '../report-request.ts';
import { percent } from '../report-request.ts';
import { numberIn, textIn } from '../row-columns.ts';
import type { Row } from '../table.ts';
import { listed } from '../words.ts';
import type { RankedSpot, RanksFigure, Spotted } from './figure.ts';

/** Indexes with their intervals, best first; undefined where nothing is ranked. */
export async function ranksFigure(
  ledger: Ledger,
  request: ReportRequest,
): Promise<RanksFigure | undefined> {
  const { rows } = await rankReport(ledger, { ...request, top: undefined });
  return ranksFigureOf(ledger, rows, request);
}

/** The same from all rows of a rank report that has been made; `top` cuts what is drawn. */
export function ranksFigureOf(
  ledger: Ledger,
  ranks: readonly Row[],
  { confidence, top }: Pick<ReportRequest, 'confidence' | 'top'>,
): RanksFigure | undefined {
  const crops = CROPS.flatMap((crop) => {
    const all = ranks.filter((row) => row['crop'] === crop).flatMap((row) => spot(ledger, row));
    const rows = all.slice(0, top);
    return rows.length === 0 ? [] : [{ crop, heading: cropHeading(ledger, crop), all, rows }];
  });
  if (crops.length === 0) return undefined;
  const rows = crops.flatMap((crop) => crop.rows);
  return {
    kind: 'ranks',
    key: ['ranks', ...crops.map(({ crop }) => crop)].join('-'),
    title: `Index by cultivar${cropOnly(crops)}`,
    reading: reading(rows, confidence),
    alt: joined(
      crops.map(({ heading, all, rows }) => [
        // Of one crop the title says which.
        crops.length === 1 ? '' : `${heading}: `,
        ...altOf(all, rows.length),
      ]),
    ),
    description: joined(crops.map(({ heading, rows }) => told(heading, rows))),
    scale: ledger.trial.scale,
    panels: crops.map(({ heading, rows }) => ({ heading, rows })),
  };
}

function cropOnly(crops: readonly { readonly crop: Crop }[]): string {
  return crops.length === 1 ? `, ${crops.map(({ crop }) => crop).join()} crop` : '';
}

function spot(ledger: Ledger, row: Row): RankedSpot[] {
  const rank = numberIn(row, 'rank');
  const value = numberIn(row, 'index');
  if (rank === undefined || value === undefined) return [];
  return [
    {
      name: markedName(ledger, textIn(row, 'cultivar')),
      rank,
      value,
      low: numberIn(row, 'low'),
      high: numberIn(row, 'high'),
      letters: textIn(row, 'letters'),
    },
  ];
}

function reading(rows: readonly RankedSpot[], confidence: number): string {
  const some = rows.some(({ low }) => low !== undefined);
  const parts = [
    some
      ? `Dot: index; line: its ${percent(confidence)} % interval. Where lines overlap, the order may be chance.`
      : 'Dot: index. There is no interval, so read close dots as equal.',
    some && rows.some(({ low }) => low === undefined) ? 'A hollow dot has no interval.' : '',
    rows.some(({ letters }) => letters !== '')
      ? 'Rows that share a letter cannot be told apart.'
      : '',
    rows.some(({ name }) => name.endsWith('(?)')) ? '(?) marks a name in doubt.' : '',
  ];
  return parts.filter((part) => part !== '').join(' ');
}

function altOf(all: readonly RankedSpot[], drawn: number): Prose {
  const best = all[0];
  if (best === undefined) return [];
  const others = all.filter((row) => row !== best && overlap(row, best));
  const close =
    others.length === 0
      ? ['; no other interval overlaps it.']
      : [
          `; intervals overlap with ${listed(
            others.map(({ name }) => name),
            3,
          )}.`,
        ];
  return [
    `${drawn < all.length ? `${drawn} of ` : ''}${all.length} ranked; the highest index is ${best.name}'s, `,
    decimal(best.value, 1),
    ...close,
  ];
}

/** Whether the intervals of two rows meet; where one has none, nobody can say that they do not. */
export function overlap(
  one: Pick<Spotted, 'low' | 'high'>,
  other: Pick<Spotted, 'low' | 'high'>,
): boolean {
  if (one.low === undefined || one.high === undefined) return true;
  if (other.low === undefined || other.high === undefined) return true;
  return one.low <= other.high && other.low <= one.high;
}

function told(heading: string, rows: readonly RankedSpot[]): Prose {
  const each = rows.map(({ rank, name, value, low, high }): Prose => {
    const index = [`${rank} ${name} `, decimal(value, 1)];
    return low === undefined || high === undefined
      ? index
      : [...index, ' (', decimal(low, 1), ' to ', decimal(high, 1), ')'];
  });
  return [`${heading}: `, ...joined(each, '; '), '.'];
}
