import type { ComparedFigure, Comparison } from './compare-figures.ts';
import { isEqual, TOLERANCE } from './compare-ledger.ts';
import type { ComparedOrder } from './compare-orders.ts';

/** Something of the ledger with this name. */
export interface Named<Told> {
  readonly name: string;
  readonly told: Told;
}

/** A row a figure, two columns a ledger; below, what could not be compared. */
export function figureTable(ledgers: readonly Named<Comparison>[]): readonly string[] {
  const row = (name: string, of: (one: Comparison) => Omit<ComparedFigure, 'name'> | undefined) => {
    const cells = ledgers.flatMap(({ told }) => {
      const one = of(told);
      return one === undefined ? ['', ''] : [one.cells, one.largest.toExponential(1)];
    });
    return `| ${[name, ...cells].join(' | ')} |`;
  };
  const compared = ledgers.map(({ told }) => told);
  const figures = new Set(compared.flatMap((one) => one.figures.map(({ name }) => name)));
  const verdict = compared.every(isEqual) ? 'equal' : 'NOT EQUAL';
  return [
    `| figure |${ledgers.map(({ name }) => ` ${name}: cells | largest relative difference |`).join('')}`,
    `|---|${'--:|--:|'.repeat(ledgers.length)}`,
    ...[...figures].map((figure) =>
      row(figure, (one) => one.figures.find(({ name }) => name === figure)),
    ),
    row(`**all: ${verdict} at ${TOLERANCE}**`, (one) => one),
    ...compared.flatMap(({ alone }) => alone.map((cell) => `NOT COMPARED: ${cell}`)),
  ];
}

/** A row a ledger and crop. */
export function orderTable(ledgers: readonly Named<readonly ComparedOrder[]>[]): readonly string[] {
  return [
    '| ledger | crop | cultivars | rank against an index by least squares, tau-b |',
    '|---|---|--:|--:|',
    ...ledgers.flatMap(({ name, told }) =>
      told.map(({ crop, cultivars, alone, tau }) => {
        const only = alone.length === 0 ? '' : ` (${alone.length} more by one alone)`;
        return `| ${name} | ${crop} | ${cultivars}${only} | ${tau?.coefficient.toFixed(3) ?? ''} |`;
      }),
    ),
  ];
}
