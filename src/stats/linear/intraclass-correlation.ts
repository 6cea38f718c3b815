import { fQuantile } from '../distributions/f-distribution.ts';
import { twoSidedTail } from '../distributions/two-sided-tail.ts';
import { requireFinite } from '../numbers/require-finite.ts';
import { sum } from '../numbers/sum.ts';

/** An intraclass correlation with its interval; can be negative. */
export interface AgreementEstimate {
  readonly estimate: number;
  /** absent if the judges agree without any residual variation, or no degrees of freedom are left */
  readonly low: number | undefined;
  readonly high: number | undefined;
}

/** For one judge's mark, or for the mean over all judges. */
export interface AgreementByModel {
  /** each target has judges of its own: ICC(1) */
  readonly oneWay: AgreementEstimate;
  /** all targets have the same judges, a sample of judges: ICC(2), counts harshness as disagreement */
  readonly twoWayRandom: AgreementEstimate;
  /** all targets have the same judges, and no others matter: ICC(3), leaves harshness out */
  readonly twoWayFixed: AgreementEstimate;
}

/** How well judges agree on targets, as a share of variance. */
export interface IntraclassCorrelation {
  readonly meanSquares: {
    readonly targets: number;
    readonly within: number;
    readonly judges: number;
    readonly residual: number;
  };
  readonly single: AgreementByModel;
  readonly average: AgreementByModel;
}

/**
 * Intraclass correlations of a complete table of marks, with intervals.
 *
 * Formula: Shrout & Fleiss 1979, Psychological Bulletin 86:420-428.
 *
 * Units: mean squares in squared units of the marks, correlations have none.
 *
 * @param marks one row a target, one column a judge, no gaps
 * @param confidence a fraction between 0 and 1
 * @returns `undefined` with fewer than two targets or judges, or without any variation
 * @throws RangeError on rows of unequal length or a mark that is not finite
 */
export function intraclassCorrelation(
  marks: readonly (readonly number[])[],
  confidence: number,
): IntraclassCorrelation | undefined {
  const tail = twoSidedTail(confidence);
  const n = marks.length;
  const k = marks[0]?.length ?? 0;
  for (const row of marks) {
    requireFinite('marks', row);
    if (row.length !== k) throw new RangeError(`a row of ${row.length} marks among rows of ${k}`);
  }
  if (n < 2 || k < 2) return undefined;
  const meanSquares = twoWayMeanSquares(marks, n, k);
  if (meanSquares.within === 0 && meanSquares.targets === 0) return undefined;
  const single = {
    oneWay: ratioModel(meanSquares.targets, meanSquares.within, n, k, n * (k - 1), tail),
    twoWayRandom: randomJudges(meanSquares, n, k, tail),
    twoWayFixed: ratioModel(
      meanSquares.targets,
      meanSquares.residual,
      n,
      k,
      (n - 1) * (k - 1),
      tail,
    ),
  };
  const average = {
    oneWay: averaged(single.oneWay, k),
    twoWayRandom: averaged(single.twoWayRandom, k),
    twoWayFixed: averaged(single.twoWayFixed, k),
  };
  return { meanSquares, single, average };
}

type MeanSquares = IntraclassCorrelation['meanSquares'];

function twoWayMeanSquares(
  marks: readonly (readonly number[])[],
  n: number,
  k: number,
): MeanSquares {
  const origin = marks[0]?.[0] ?? 0;
  const shifted = marks.map((row) => row.map((mark) => mark - origin));
  const grand = sum(shifted.flat()) / (n * k);
  const targets = shifted.map((row) => sum(row) / k);
  const judges = Array.from(
    { length: k },
    (_, judge) => sum(shifted.map((row) => row[judge] ?? 0)) / n,
  );
  const squares = (values: readonly number[]): number => sum(values.map((value) => value * value));
  const within = squares(shifted.flatMap((row, i) => row.map((mark) => mark - (targets[i] ?? 0))));
  const rest = squares(
    shifted.flatMap((row, i) =>
      row.map((mark, judge) => mark - (targets[i] ?? 0) - (judges[judge] ?? 0) + grand),
    ),
  );
  return {
    targets: (k * squares(targets.map((mean) => mean - grand))) / (n - 1),
    within: within / (n * (k - 1)),
    judges: (n * squares(judges.map((mean) => mean - grand))) / (k - 1),
    residual: rest / ((n - 1) * (k - 1)),
  };
}

/** (F - 1) / (F + k - 1), for F and for its confidence limits. */
function ratioModel(
  targets: number,
  error: number,
  n: number,
  k: number,
  errorDf: number,
  tail: number,
): AgreementEstimate {
  const estimate = (targets - error) / (targets + (k - 1) * error);
  if (error === 0) return { estimate, low: undefined, high: undefined };
  const f = targets / error;
  const share = (ratio: number): number => (ratio - 1) / (ratio + k - 1);
  return {
    estimate,
    low: share(f / fQuantile(1 - tail, n - 1, errorDf)),
    high: share(f * fQuantile(1 - tail, errorDf, n - 1)),
  };
}

function randomJudges(
  { targets, judges, residual }: MeanSquares,
  n: number,
  k: number,
  tail: number,
): AgreementEstimate {
  const estimate =
    (targets - residual) / (targets + (k - 1) * residual + (k * (judges - residual)) / n);
  if (residual === 0) return { estimate, low: undefined, high: undefined };
  const f = judges / residual;
  const own = n * (1 + (k - 1) * estimate) - k * estimate;
  const df =
    ((k - 1) * (n - 1) * (k * estimate * f + own) ** 2) /
    ((n - 1) * (k * estimate * f) ** 2 + own ** 2);
  if (!(df > 0)) return { estimate, low: undefined, high: undefined };
  const lower = fQuantile(1 - tail, n - 1, df);
  const upper = fQuantile(1 - tail, df, n - 1);
  const rest = k * judges + (k * n - k - n) * residual;
  return {
    estimate,
    low: (n * (targets - lower * residual)) / (lower * rest + n * targets),
    high: (n * (upper * targets - residual)) / (rest + n * upper * targets),
  };
}

/** What the correlation becomes for the mean of k judges (Spearman and Brown's formula). */
function averaged({ estimate, low, high }: AgreementEstimate, k: number): AgreementEstimate {
  const step = (value: number): number => (k * value) / (1 + (k - 1) * value);
  return {
    estimate: step(estimate),
    low: low === undefined ? undefined : step(low),
    high: high === undefined ? undefined : step(high),
  };
}
