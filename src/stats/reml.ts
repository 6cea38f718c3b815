import { type MixedEquations, type MixedModelInput, mixedEquations } from './mixed-equations.ts';
import { type MixedInformation, mixedInformation } from './mixed-information.ts';
import { type MixedSolution, mixedSolution } from './mixed-solution.ts';
import { symmetricPseudoInverse } from './symmetric-pseudo-inverse.ts';

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
/** A step that promises less than this may be lost in the rounding of the log-likelihood. */
const NO_GAIN = 1e-8;

/**
 * Residual maximum likelihood for y = fixed effects + independent random effects of one or more
 * factors + residual, all normal.
 *
 * Method: Fisher scoring (Patterson & Thompson 1971, Biometrika 58:545-554) on the mixed model
 * equations (Henderson 1975, Biometrics 31:423-447); a step that does not raise the likelihood is
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

  let solution = mixedSolution(
    equations,
    input.random.map(() => 1),
  );
  let converged = false;
  let iterations = 0;
  while (solution !== undefined && !converged && iterations < MOST_ITERATIONS) {
    if (!(solution.residual > least)) return undefined;
    const slope = mixedInformation(equations, solution);
    const step = scoringStep(solution, slope);
    if (step === undefined) return undefined;
    const next = ascend(equations, solution, step);
    iterations++;
    if (next === undefined) {
      converged = expectedGain(slope, step) < NO_GAIN;
      break;
    }
    converged = isSettled(solution, next);
    solution = next;
  }
  if (solution === undefined || !(solution.residual > least)) return undefined;
  return summary(equations, solution, converged, iterations);
}

/** Step in the variances and the residual; 0 for variances that are held at zero. */
function scoringStep(
  { ratios }: MixedSolution,
  { score, information }: MixedInformation,
): number[] | undefined {
  const size = score.length;
  let free = [...score.keys()].filter(
    (at) => at === size - 1 || (ratios[at] ?? 0) > 0 || (score[at] ?? 0) > 0,
  );
  for (;;) {
    const part = Float64Array.from(
      free.flatMap((i) => free.map((j) => information[i * size + j] ?? 0)),
    );
    const scale = Float64Array.from(free, (i) => information[i * size + i] ?? 0);
    if (scale.some((entry) => !(entry > 0))) return undefined;
    const { inverse, rank } = symmetricPseudoInverse(part, scale);
    if (rank < free.length) return undefined;
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
  const { information } = mixedInformation(equations, solution);
  const size = random.length + 1;
  const scale = Float64Array.from({ length: size }, (_, i) => information[i * size + i] ?? 0);
  if (scale.some((entry) => !(entry > 0))) return undefined;
  const columns = Array.from({ length: fixedColumns }, (_, column) => column);
  const wideSe = widePredictionError(equations, solution);
  return {
    variances: ratios.map((ratio) => ratio * residual),
    residual,
    varianceCovariance: symmetricPseudoInverse(information, scale).inverse.to2DArray(),
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
