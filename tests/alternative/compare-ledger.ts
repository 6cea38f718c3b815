import type { Comparison } from './compare-figures.ts';
import { type ComparedOrder, compareOrders } from './compare-orders.ts';
import { type Figure, RANK, REPORTS } from './figure.ts';
import { plainFigures } from './plain-figures.ts';
import { anovaFigures, exportCommand, reportFigures } from './pomary-figures.ts';
import { printedBy } from './printed-by.ts';

/**
 * Largest relative difference that counts as equal. Both add up doubles in orders of their own, which for these
 * layouts leaves 1e-14 or so; slopes near 0 are differences of larger numbers and keep fewer digits.
 */
export const TOLERANCE = 1e-9;

/** What the two tell of one ledger. */
export interface BothFigures {
  readonly pomary: readonly Figure[];
  readonly r: readonly Figure[];
}

/** Exports a ledger into `tables`, and has every report that must be equal worked out from both. */
export async function figuresOf(ledger: string, tables: string): Promise<BothFigures> {
  printedBy(exportCommand(ledger, tables));
  return {
    pomary: [
      ...REPORTS.flatMap((report) => reportFigures(ledger, report)),
      ...(await anovaFigures(ledger)),
    ],
    r: plainFigures(tables, REPORTS),
  };
}

export function isEqual({ largest, alone }: Comparison): boolean {
  return largest <= TOLERANCE && alone.length === 0;
}

/** The orders of `pomary rank` and of the index by least squares, from tables that are exported. */
export function compareRanks(ledger: string, tables: string): readonly ComparedOrder[] {
  return compareOrders(reportFigures(ledger, RANK), plainFigures(tables, [RANK]));
}
