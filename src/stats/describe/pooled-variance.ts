import { sum } from '../numbers/sum.ts';
import { mean } from './mean.ts';

/**
 * Variance within groups, pooled: sum of squares about the groups' own means / (values - groups).
 * Groups of one value or none add nothing; 0 if all groups are such.
 *
 * Units: the square of those of the values.
 */
export function pooledVariance(groups: readonly (readonly number[])[]): number {
  const squares: number[] = [];
  let freedom = 0;
  for (const group of groups) {
    if (group.length < 2) continue;
    squares.push(squareAboutMean(group));
    freedom += group.length - 1;
  }
  return freedom === 0 ? 0 : sum(squares) / freedom;
}

function squareAboutMean(group: readonly number[]): number {
  const centre = mean(group) ?? 0;
  let square = 0;
  for (const value of group) square += (value - centre) ** 2;
  return square;
}
