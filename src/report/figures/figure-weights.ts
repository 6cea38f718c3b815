import { selectRecords } from '../../measure/crop-record.ts';
import type { RecordGroup } from '../../measure/group-records.ts';
import { groupRecords } from '../../measure/group-records.ts';
import { weightFigures } from '../../measure/weight-figures.ts';
import type { Ledger } from '../../model/ledger.ts';
import { CROPS } from '../../model/ledger.ts';
import { cropHeading } from '../crop-words.ts';
import { cultivarName, markedName } from '../names.ts';
import { decimal, joined, type Prose } from '../prose.ts';
import type { ReportRequest } from '../report-request.ts';
import type { WeightSpread, WeightsFigure } from './figure.ts';

/** Fruit weighed singly that a box needs; fewer are drawn one by one. */
const ENOUGH_FOR_A_BOX = 5;

/** Weights of single fruit by cultivar, heaviest first; undefined where none was weighed singly. */
export function weightsFigure(ledger: Ledger, request: ReportRequest): WeightsFigure | undefined {
  const records = selectRecords(ledger, request.selection);
  const crops = CROPS.flatMap((crop) => {
    const own = records.filter((record) => record.crop === crop);
    const rows = groupRecords(ledger, own, ['cultivar'], true)
      .flatMap((group) => spread(ledger, group, request.confidence))
      .toSorted((a, b) => b.middle - a.middle)
      .slice(0, request.top)
      .map(({ row }) => row);
    return rows.length === 0 ? [] : [{ crop, heading: cropHeading(ledger, crop), rows }];
  });
  if (crops.length === 0) return undefined;
  const rows = crops.flatMap((crop) => crop.rows);
  return {
    kind: 'weights',
    key: ['weights', ...crops.map(({ crop }) => crop)].join('-'),
    title: 'Fruit weight by cultivar',
    reading: reading(rows),
    alt: joined(crops.map(({ heading, rows }) => altOf(heading, rows))),
    description: joined(crops.map(({ heading, rows }) => told(heading, rows))),
    panels: crops.map(({ heading, rows }) => ({ heading, rows })),
  };
}

function spread(
  ledger: Ledger,
  group: RecordGroup,
  confidence: number,
): { readonly middle: number; readonly row: WeightSpread }[] {
  const cultivar = group.cultivars[0];
  const { singly, min, q1, median, q3, max } = weightFigures(group.records, confidence);
  const weights = group.records.flatMap((record) => record.weights.singles);
  const middle = median ?? weights[0];
  if (cultivar === undefined || middle === undefined) return [];
  const name = markedName(ledger, cultivarName(ledger, cultivar));
  if (singly < ENOUGH_FOR_A_BOX) return [{ middle, row: { name, kind: 'fruit', weights } }];
  if (min === undefined || q1 === undefined || q3 === undefined || max === undefined) return [];
  return [{ middle, row: { name, kind: 'box', min, q1, median: middle, q3, max } }];
}

function reading(rows: readonly WeightSpread[]): string {
  const parts = [
    rows.some(({ kind }) => kind === 'box')
      ? 'Box: the middle half of the fruit; upright tick: the median; thin line: from the lightest to the heaviest.'
      : '',
    rows.some(({ kind }) => kind === 'fruit')
      ? `Hollow dots: single fruit, where fewer than ${ENOUGH_FOR_A_BOX} were weighed.`
      : '',
    rows.some(({ name }) => name.endsWith('(?)')) ? '(?) marks a name in doubt.' : '',
  ];
  return parts.filter((part) => part !== '').join(' ');
}

function altOf(heading: string, rows: readonly WeightSpread[]): Prose {
  const boxes = rows.filter((row) => row.kind === 'box');
  const heavy = boxes[0];
  const light = boxes.at(-1);
  if (heavy === undefined || light === undefined || heavy === light) {
    return [`${heading}: fruit weights of ${rows.map(({ name }) => name).join(', ')}.`];
  }
  return [
    `${heading}: medians from `,
    decimal(light.median, 0),
    ` g (${light.name}) to `,
    decimal(heavy.median, 0),
    ` g (${heavy.name}).`,
  ];
}

function told(heading: string, rows: readonly WeightSpread[]): Prose {
  const each = rows.map((row): Prose => {
    if (row.kind === 'fruit') {
      const weights = row.weights.map((weight): Prose => [decimal(weight, 1)]);
      return [`${row.name} `, ...joined(weights, ', '), ' g'];
    }
    return [
      `${row.name} median `,
      decimal(row.median, 1),
      ' g, least ',
      decimal(row.min, 1),
      ' g, greatest ',
      decimal(row.max, 1),
      ' g',
    ];
  });
  return [`${heading}: `, ...joined(each, '; '), '.'];
}
