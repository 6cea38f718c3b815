import { fUpper } from '../distributions/f-distribution.ts';
import type { Factor } from '../numbers/factor.ts';
import { sum } from '../numbers/sum.ts';
import { type AdditiveFit, additiveFit } from './additive-fit.ts';

/** One line of an analysis of variance: sum of squares, degrees of freedom, mean square. */
export interface VarianceLine {
  readonly ss: number;
  readonly df: number;
  readonly ms: number;
}

/** A term of an analysis of variance, tested against the residual. */
export interface TestedTerm extends VarianceLine {
  /** absent without residual variation, or if the term adds no degree of freedom */
  readonly f: number | undefined;
  readonly p: number | undefined;
}

/** An analysis of variance, term by term in the order given. */
export interface SequentialAnova {
  readonly terms: readonly TestedTerm[];
  readonly residual: VarianceLine;
}

/**
 * Analysis of variance of an additive model in which each term is adjusted for those before it: put
 * the blocks first and the treatments last, and the last line tests treatments free of blocks.
 *
 * Formula: the sum of squares of a term is the squared length of what it adds to the fitted values
 * (Searle 1971, Linear Models, section 7.1), on as many degrees of freedom as it adds to the rank.
 *
 * Method: the first value is taken off every value, which is exact for values close together. Holds
 * NIST StRD's certified values within what doubles can carry.
 *
 * Units: sums of squares and mean squares in squared units of y.
 *
 * @param y one finite value a row
 * @param factors one or more, in order
 * @returns `undefined` if no degrees of freedom are left for the residual
 * @throws RangeError as `additiveFit` does
 */
export function sequentialAnova(
  y: readonly number[],
  factors: readonly Factor[],
): SequentialAnova | undefined {
  const origin = y[0] ?? 0;
  const shifted = y.map((value) => value - origin);
  const fits = factors.map((_, at) => additiveFit(shifted, factors.slice(0, at + 1)));
  const last = fits.at(-1);
  if (last === undefined || last.df < 1) return undefined;
  const average = sum(shifted) / shifted.length;
  const residual = line(last.residualSumOfSquares, last.df);
  const terms = fits.map((fit, at) => {
    const before: Pick<AdditiveFit, 'rank' | 'fitted'> = fits[at - 1] ?? {
      rank: 1,
      fitted: new Float64Array(y.length).fill(average),
    };
    const gained = Array.from(fit.fitted, (value, row) => (value - (before.fitted[row] ?? 0)) ** 2);
    return tested(line(sum(gained), fit.rank - before.rank), residual);
  });
  return { terms, residual };
}

const line = (ss: number, df: number): VarianceLine => ({ ss, df, ms: df === 0 ? 0 : ss / df });

function tested(term: VarianceLine, residual: VarianceLine): TestedTerm {
  if (term.df === 0 || residual.ms === 0) return { ...term, f: undefined, p: undefined };
  const f = term.ms / residual.ms;
  return { ...term, f, p: fUpper(f, term.df, residual.df) };
}
