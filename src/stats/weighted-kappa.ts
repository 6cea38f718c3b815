import { requireFinite } from './require-finite.ts';

/** How much a step between two classes counts: not at all, by the step, or by its square. */
export type KappaWeights = 'none' | 'linear' | 'quadratic' | readonly (readonly number[])[];

/** Agreement of two judges beyond chance. */
export interface Kappa {
  /** share of full agreement that was observed, and that chance alone would give */
  readonly observed: number;
  readonly expected: number;
  readonly kappa: number;
  /** large-sample standard error */
  readonly se: number;
}

/**
 * Cohen's kappa of two judges who put the same targets into ordered classes: 1 is full agreement, 0
 * what chance gives.
 *
 * Formula: kappa = (po - pe) / (1 - pe) with agreement weights, 1 on the diagonal; linear 1 - |i - j| /
 * (k - 1), quadratic 1 - (i - j)^2 / (k - 1)^2 (Cohen 1968, Psychological Bulletin 70:213-220).
 * Standard error: Fleiss, Cohen & Everitt 1969, Psychological Bulletin 72:323-327.
 *
 * @param table counts of targets, one row a class of the first judge, one column a class of the second
 * @param weights a scheme, or agreement weights of one's own, class by class
 * @returns `undefined` for an empty table, or if chance alone would give full agreement
 * @throws RangeError if the table is not square, a count is negative, or weights do not fit
 */
export function weightedKappa(
  table: readonly (readonly number[])[],
  weights: KappaWeights,
): Kappa | undefined {
  const classes = [...table.keys()];
  requireTable(table);
  const total = table.flat().reduce((sum, count) => sum + count, 0);
  if (total === 0) return undefined;
  const weight = weightOf(weights, table.length);
  const share = (i: number, j: number): number => (table[i]?.[j] ?? 0) / total;
  const overClasses = (term: (i: number) => number): number =>
    classes.reduce((sum, i) => sum + term(i), 0);

  const first = classes.map((i) => overClasses((j) => share(i, j)));
  const second = classes.map((j) => overClasses((i) => share(i, j)));
  const observed = overClasses((i) => overClasses((j) => weight(i, j) * share(i, j)));
  const expected = overClasses((i) =>
    overClasses((j) => weight(i, j) * (first[i] ?? 0) * (second[j] ?? 0)),
  );
  if (!(expected < 1)) return undefined;
  const kappa = (observed - expected) / (1 - expected);

  const rowWeight = classes.map((i) => overClasses((j) => weight(i, j) * (second[j] ?? 0)));
  const columnWeight = classes.map((j) => overClasses((i) => weight(i, j) * (first[i] ?? 0)));
  const spread = overClasses((i) =>
    overClasses((j) => {
      const margins = (rowWeight[i] ?? 0) + (columnWeight[j] ?? 0);
      return share(i, j) * (weight(i, j) - margins * (1 - kappa)) ** 2;
    }),
  );
  const variance = spread - (kappa - expected * (1 - kappa)) ** 2;
  return {
    observed,
    expected,
    kappa,
    se: Math.sqrt(Math.max(0, variance) / total) / (1 - expected),
  };
}

function requireTable(table: readonly (readonly number[])[]): void {
  for (const row of table) {
    requireFinite('counts', row);
    if (row.length !== table.length) throw new RangeError('the table is not square');
    if (row.some((count) => count < 0)) throw new RangeError('a count is negative');
  }
}

function weightOf(weights: KappaWeights, classes: number): (i: number, j: number) => number {
  const span = Math.max(1, classes - 1);
  if (weights === 'none') return (i, j) => (i === j ? 1 : 0);
  if (weights === 'linear') return (i, j) => 1 - Math.abs(i - j) / span;
  if (weights === 'quadratic') return (i, j) => 1 - ((i - j) / span) ** 2;
  for (const row of weights) requireFinite('weights', row);
  if (weights.length !== classes || weights.some((row) => row.length !== classes)) {
    throw new RangeError(`weights do not fit ${classes} classes`);
  }
  return (i, j) => weights[i]?.[j] ?? 0;
}
