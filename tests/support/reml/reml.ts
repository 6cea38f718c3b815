import { symmetricPseudoInverse } from '../../../src/stats/numbers/symmetric-pseudo-inverse.ts';
import { type MixedEquations, type MixedModelInput, mixedEquations } from './mixed-equations.ts';
import { type MixedInformation, mixedInformation } from './mixed-information.ts';
import { type MixedSolution, mixedSolution } from './mixed-solution.ts';

/** Variance components, estimates of the fixed effects and predictions of the random ones. */
export interface Reml {
  /** by random factor, 0 or above, and exactly 0 where the likelihood is greatest there */
  readonly variances: readonly number[];
  readonly residual: number;
  /** covariances of the variances and then the residual, from the expected information */
  readonly varianceCovariance: readonly (readonly number[])[];
  readonly fixed: {
    readonly estimates: readonly number[];
    readonly covariance: readonly (readonly number[])[];
  };
  /** best linear unbiased predictions, by random factor and level; 0 for a level without rows */
  readonly blups: readonly (readonly number[])[];
  /** root of the prediction error variance, which allows for estimating the fixed effects */
  readonly blupSe: readonly (readonly number[])[];
  readonly logLikelihood: number;
  /** false if the search was stopped before it settled: the figures are then not to be trusted */
  readonly converged: boolean;
  readonly iterations: number;
}

const MOST_ITERATIONS = 200;
const SETTLED = 1e-11;
/** A residual variance below this share of the whole is none: a likelihood without a maximum. */
const NO_RESIDUAL = 1e-10;
/** A rise of the log-likelihood that can be lost in its rounding. */
const NO_GAIN = 1e-8;

/**
 * Residual maximum likelihood for y = fixed effects + independent random effects of one or more
 * factors + residual, all normal.
 *
 * Method: Newton's steps, and Fisher scoring (Patterson & Thompson 1971, Biometrika 58:545-554) where
 * the likelihood does not curve down, on the mixed model equations (Henderson 1975, Biometrics
 * 31:423-447), from the likeliest of a few starts; a step that does not raise the likelihood is
 * halved, a variance that would turn negative is set to 0, and stays there while the likelihood
 * falls away from 0. Predictions: Robinson 1991, Statistical Science 6:15-32. Neither the
 * covariance of the fixed effects nor `blupSe` allows for estimating the variances.
 *
 * Cost: the random factor with the most levels costs little; each step takes the cube of the fixed
 * columns plus the levels of the other random factors.
 * Units: variances in squared units of y, effects in those of y.
 *
 * @returns `undefined` if the variances cannot be told apart (say, one row a level), or if nothing
 *   is left for the residual
 * @throws RangeError as `mixedEquations` does
 */
export function reml(input: MixedModelInput): Reml | undefined {
  const equations = mixedEquations(input);
  const freedom = equations.rows - equations.fixedColumns;
  const scatter = equations.y.reduce((total, value) => total + value * value, 0);
  if (freedom < 2 || scatter === 0) return undefined;
  const least = (NO_RESIDUAL * scatter) / freedom;

  let solution = likeliestStart(equations);
  let converged = false;
  let iterations = 0;
  let lastGain = Number.POSITIVE_INFINITY;
  while (solution !== undefined && !converged && iterations < MOST_ITERATIONS) {
    if (!(solution.residual > least)) return undefined;
    const slope = mixedInformation(equations, solution);
    const step = scoringStep(solution, slope);
    if (step === undefined) return undefined;
    const gain = expectedGain(slope, step);
    const next = ascend(equations, solution, step);
    iterations++;
    // What a step promises cannot shrink for ever: rounding sets a floor.
    const atFloor = gain < NO_GAIN && (next === undefined || gain >= lastGain);
    converged = atFloor || (next !== undefined && isSettled(solution, next));
    if (next === undefined) break;
    solution = next;
    lastGain = gain;
  }
  if (solution === undefined || !(solution.residual > least)) return undefined;
  return summary(equations, solution, converged, iterations);
}

/** A few ratios for all factors alike, and each factor alone: small trials can have several peaks. */
function likeliestStart(equations: MixedEquations): MixedSolution | undefined {
  const factors = [...equations.random.keys()];
  const alike = [0.1, 1, 10].map((ratio) => factors.map(() => ratio));
  const alone = factors.map((own) => factors.map((at) => (at === own ? 1 : 0)));
  return [...alike, ...(factors.length > 1 ? alone : [])]
    .map((ratios) => mixedSolution(equations, ratios))
    .reduce((best, each) =>
      each !== undefined && !(best !== undefined && best.logLikelihood >= each.logLikelihood)
        ? each
        : best,
    );
}

/**
 * Step in the variances and the residual; 0 for variances that are held at zero. Newton's step
 * where the likelihood curves down, else Fisher's; `undefined` if the variances cannot be told apart.
 */
function scoringStep(
  { ratios }: MixedSolution,
  { score, expected, observed }: MixedInformation,
): number[] | undefined {
  const size = score.length;
  let free = [...score.keys()].filter(
    (at) => at === size - 1 || (ratios[at] ?? 0) > 0 || (score[at] ?? 0) > 0,
  );
  for (;;) {
    const scale = Float64Array.from(free, (i) => expected[i * size + i] ?? 0);
    if (scale.some((entry) => !(entry > 0))) return undefined;
    const [fisher, newton] = [expected, observed].map((table) =>
      symmetricPseudoInverse(
        Float64Array.from(free.flatMap((i) => free.map((j) => table[i * size + j] ?? 0))),
        scale,
      ),
    );
    if (fisher === undefined || fisher.rank < free.length) return undefined;
    const { inverse } = newton?.rank === free.length ? newton : fisher;
    const step = new Array<number>(size).fill(0);
    for (const [a, i] of free.entries()) {
      step[i] = free.reduce((total, j, b) => total + inverse.get(a, b) * (score[j] ?? 0), 0);
    }
    const blocked = free.filter((i) => ratios[i] === 0 && (step[i] ?? 0) < 0);
    if (blocked.length === 0) return step;
    free = free.filter((i) => !blocked.includes(i));
  }
}

const expectedGain = ({ score }: MixedInformation, step: readonly number[]): number =>
  step.reduce((total, move, at) => total + (move * (score[at] ?? 0)) / 2, 0);

/** The first point along the step, halved as often as needed, that is not less likely. */
function ascend(
  equations: MixedEquations,
  from: MixedSolution,
  step: readonly number[],
): MixedSolution | undefined {
  const slack = 1e-12 * Math.abs(from.logLikelihood);
  for (let length = 1; length > 1e-9; length /= 2) {
    const residual = from.residual + length * (step.at(-1) ?? 0);
    if (!(residual > 0)) continue;
    const ratios = from.ratios.map((ratio, at) => {
      const variance = ratio * from.residual + length * (step[at] ?? 0);
      return Math.max(0, variance) / residual;
    });
    const next = mixedSolution(equations, ratios);
    if (next !== undefined && next.logLikelihood >= from.logLikelihood - slack) return next;
  }
  return undefined;
}

function isSettled(before: MixedSolution, after: MixedSolution): boolean {
  const close = (old: number, now: number): boolean =>
    Math.abs(now - old) <= SETTLED * Math.max(now, after.residual * 1e-3);
  return (
    close(before.residual, after.residual) &&
    after.ratios.every((ratio, at) =>
      close((before.ratios[at] ?? 0) * before.residual, ratio * after.residual),
    )
  );
}

function summary(
  equations: MixedEquations,
  solution: MixedSolution,
  converged: boolean,
  iterations: number,
): Reml | undefined {
  const { fixedColumns, random, start, offsets } = equations;
  const { residual, ratios, narrow, narrowCovariance, logLikelihood } = solution;
  const { expected } = mixedInformation(equations, solution);
  const size = random.length + 1;
  const scale = Float64Array.from({ length: size }, (_, i) => expected[i * size + i] ?? 0);
  if (scale.some((entry) => !(entry > 0))) return undefined;
  const columns = Array.from({ length: fixedColumns }, (_, column) => column);
  const wideSe = widePredictionError(equations, solution);
  return {
    variances: ratios.map((ratio) => ratio * residual),
    residual,
    varianceCovariance: symmetricPseudoInverse(expected, scale).inverse.to2DArray(),
    fixed: {
      estimates: columns.map((column) => (start[column] ?? 0) + (narrow[column] ?? 0)),
      covariance: columns.map((i) => columns.map((j) => narrowCovariance.get(i, j) * residual)),
    },
    blups: random.map((factor, at) =>
      at === equations.wide
        ? [...solution.wide]
        : [...narrow.subarray(offsets[at] ?? 0, (offsets[at] ?? 0) + factor.count)],
    ),
    blupSe: random.map((factor, at) =>
      at === equations.wide
        ? wideSe
        : Array.from({ length: factor.count }, (_, level) => {
            const column = (offsets[at] ?? 0) + level;
            return Math.sqrt(Math.max(0, narrowCovariance.get(column, column) * residual));
          }),
    ),
    logLikelihood,
    converged,
    iterations,
  };
}

/** Prediction errors of the wide levels: their own, and what they take over from the narrow ones. */
function widePredictionError(equations: MixedEquations, solution: MixedSolution): number[] {
  const { crossProducts } = equations;
  const turned = crossProducts.mmul(solution.narrowCovariance);
  return Array.from(solution.taken, (taken, level) => {
    const own = crossProducts.getRow(level);
    const shared = own.reduce((total, weight, at) => total + weight * turned.get(level, at), 0);
    return Math.sqrt(Math.max(0, solution.residual * (taken + taken * taken * shared)));
  });
}
