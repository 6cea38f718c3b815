import { sum } from '../numbers/sum.ts';
import { mean } from './mean.ts';

/**
 * Variance within groups, pooled: sum of squares about the groups' own means / (values - groups).
 * Groups of one value or none add nothing; 0 if all groups are such.
 *
 * Units: the square of those of the values.
 */
export function pooledVariance(groups: readonly (readonly number[])[]): number {
  const told = groups.filter((group) => group.length > 1);
  const freedom = sum(told.map((group) => group.length - 1));
  if (freedom === 0) return 0;
  const squares = told.map((group) => {
    const centre = mean(group) ?? 0;
    return sum(group.map((value) => (value - centre) ** 2));
  });
  return sum(squares) / freedom;
}
