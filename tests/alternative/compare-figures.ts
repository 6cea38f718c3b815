import type { Figure } from './figure.ts';

/** One figure of a report over all its cells. */
export interface ComparedFigure {
  /** Report and figure. */
  readonly name: string;
  readonly cells: number;
  /** Largest relative difference. */
  readonly largest: number;
}

export interface Comparison {
  readonly figures: readonly ComparedFigure[];
  /** Cells that both have. */
  readonly cells: number;
  /** Largest relative difference of all; not a number where a value is none. */
  readonly largest: number;
  /** Cells that only one of the two has, in words. */
  readonly alone: readonly string[];
}

/** Figures of pomary and of R, cell by cell. */
export function compareFigures(pomary: readonly Figure[], r: readonly Figure[]): Comparison {
  const [ours, theirs] = [byCell(pomary), byCell(r)];
  const differences = new Map<string, number[]>();
  for (const [cell, { report, figure, value }] of ours) {
    const other = theirs.get(cell);
    if (other === undefined) continue;
    const name = `${report}, ${figure}`;
    const own = differences.get(name) ?? [];
    own.push(relativeDifference(value, other.value));
    differences.set(name, own);
  }
  const figures = [...differences].map(([name, own]) => ({
    name,
    cells: own.length,
    largest: Math.max(...own),
  }));
  const missing = (from: typeof ours, cells: typeof ours, who: string) =>
    [...cells.keys()].filter((cell) => !from.has(cell)).map((cell) => `only ${who} has ${cell}`);
  return {
    figures,
    cells: figures.reduce((sum, { cells }) => sum + cells, 0),
    largest: Math.max(...figures.map(({ largest }) => largest)),
    alone: [...missing(theirs, ours, 'pomary'), ...missing(ours, theirs, 'R')],
  };
}

/** Difference over the larger of the two; where one of them is 0, the difference itself. */
export function relativeDifference(a: number, b: number): number {
  const difference = Math.abs(a - b);
  return a === 0 || b === 0 ? difference : difference / Math.max(Math.abs(a), Math.abs(b));
}

function byCell(figures: readonly Figure[]): ReadonlyMap<string, Figure> {
  const cells = new Map<string, Figure>();
  for (const one of figures) {
    const cell = [one.report, one.crop, one.of, one.trait, one.figure].join(' | ');
    if (cells.has(cell)) throw new Error(`twice: ${cell}`);
    cells.set(cell, one);
  }
  return cells;
}
