import {
  type EnvironmentEffects,
  environmentEffects,
  type PartialTable,
} from './environment-effects.ts';

/** How one treatment follows the environments. */
export type StabilityLine = {
  /** Environments that the treatment was seen in. */
  readonly environments: number;
  /**
   * 1 follows the mean of all; above 1 gains more from good environments, below 1 loses less in bad
   * ones.
   */
  readonly slope: number;
  /** Absent for two environments, through which a line always goes. */
  readonly standardError: number | undefined;
  /** Value of the line in the mean environment of its group. */
  readonly atMean: number;
  /** Sum of squares about the line. */
  readonly deviationSs: number;
  /** The same over environments - 2; absent for two environments. */
  readonly deviationMs: number | undefined;
  /**
   * Share of the treatment's own sum of squares that the line takes up; absent if its values are
   * all equal.
   */
  readonly rSquared: number | undefined;
};

export type FinlayWilkinson = EnvironmentEffects & {
  /** By treatment; absent if it was not seen in two environments that differ. */
  readonly lines: readonly (StabilityLine | undefined)[];
};

/**
 * Finlay-Wilkinson regression: each treatment's values on how good the environments are.
 *
 * The environment index is the environment's effect in the additive model of treatment and
 * environment, so that a cell missing from a poor environment does not make the environment look
 * good. Without missing cells it is the environment mean less the mean of all, and slopes average
 * 1. The index is made of the same values, so with few treatments slopes are drawn towards 1 and
 * the standard errors are a guide only.
 *
 * Source: Finlay and Wilkinson 1963, Australian Journal of Agricultural Research 14:742-754 (who
 * took logarithms first; that is left to the caller).
 *
 * @param values by treatment and environment
 * @throws RangeError if treatments differ in how many environments they have or a value is not
 *   finite
 */
export function finlayWilkinson(values: PartialTable): FinlayWilkinson {
  const { effects, groups } = environmentEffects(values);
  return { effects, groups, lines: values.map((row) => stabilityLine(row, effects)) };
}

function stabilityLine(
  row: readonly (number | undefined)[],
  effects: readonly (number | undefined)[],
): StabilityLine | undefined {
  const points = row.flatMap((y, environment) => {
    const x = effects[environment];
    return y === undefined || x === undefined ? [] : [{ x, y }];
  });
  const n = points.length;
  const mean = (part: (point: { x: number; y: number }) => number) =>
    points.reduce((sum, point) => sum + part(point), 0) / n;
  const [meanX, meanY] = [mean(({ x }) => x), mean(({ y }) => y)];
  const sxx = n * mean(({ x }) => (x - meanX) ** 2);
  const syy = n * mean(({ y }) => (y - meanY) ** 2);
  const greatest = effects.reduce<number>(
    (most, effect) => Math.max(most, Math.abs(effect ?? 0)),
    0,
  );
  // Environments that differ by rounding alone do not differ.
  if (n < 2 || sxx <= n * (1e-12 * greatest) ** 2) return undefined;
  const slope = (n * mean(({ x, y }) => (x - meanX) * (y - meanY))) / sxx;
  const deviationSs = n * mean(({ x, y }) => (y - meanY - slope * (x - meanX)) ** 2);
  const deviationMs = n > 2 ? deviationSs / (n - 2) : undefined;
  return {
    environments: n,
    slope,
    standardError: deviationMs === undefined ? undefined : Math.sqrt(deviationMs / sxx),
    atMean: meanY - slope * meanX,
    deviationSs,
    deviationMs,
    rSquared: syy === 0 ? undefined : 1 - deviationSs / syy,
  };
}
