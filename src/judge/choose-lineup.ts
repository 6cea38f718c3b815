import { expectedWrongOrderChance, wrongOrderChance } from './wrong-order-chance.ts';

/** What is believed of some cultivars, by index, and what a tasting would add. */
export interface LineupProblem {
  /** Where each seems to stand. */
  readonly mean: readonly number[];
  /** How far that may be off: standard deviations, taken as independent, or their covariances. */
  readonly doubt: Doubt;
  /** Sittings at which each was tasted; of choices that tell as much, the less tasted come first. */
  readonly tastings: readonly number[];
  /** Those that can be tasted. */
  readonly pool: readonly number[];
  /** How many to choose. */
  readonly n: number;
  /** Standard deviation of what one sitting would say of one of them, sitting and tasters apart. */
  readonly plateSd: number;
  /** By index: how much it matters where each stands, 0 to 1; left out, its nearness to the top. */
  readonly weights?: readonly number[] | undefined;
}

export type Doubt =
  | { readonly kind: 'sd'; readonly sd: readonly number[] }
  | { readonly kind: 'covariance'; readonly covariance: readonly (readonly number[])[] };

/** Two of a line-up and their order. */
export interface DoubtfulPair {
  /** The one that seems better. */
  readonly better: number;
  readonly worse: number;
  /** Chance that they truly stand the other way round, up to 0.5. */
  readonly wrong: number;
  /** What that chance can be expected to be after tasting both. */
  readonly wrongAfter: number;
  /** (wrong - wrongAfter) x weight of the pair: what tasting both is worth. */
  readonly gain: number;
}

export interface LineupChoice {
  /** Indexes, in the order in which they were chosen. */
  readonly chosen: readonly number[];
  /** Every pair of them, worth most first. */
  readonly pairs: readonly DoubtfulPair[];
  /** Sum of the gains of the pairs. */
  readonly gain: number;
}

/**
 * Chooses what to taste together so that the order of the best becomes as clear as one sitting can
 * make it.
 *
 * A pair is in doubt as far as its present order may be wrong (`wrongOrderChance`). Tasting both at
 * one sitting observes their difference with variance 2 plateSd^2, and so can be expected to take
 * some of the doubt away (`expectedWrongOrderChance`): nothing where the order is settled, most
 * where two are close and little known. A pair counts by the smaller of its two weights. The weight
 * of one, where none is given, is its nearness to the top: twice the chance of being better than
 * the one that now leads, at most 1.
 *
 * Method: the pair with most to gain, then one after another whatever adds most, then exchanges of
 * one for another as long as they gain. That is not proven to be the best set, only one that no
 * single exchange improves. The result does not depend on any order of the input but to break ties.
 */
export function chooseLineup(problem: LineupProblem): LineupChoice {
  const { pool, n } = problem;
  const pairOf = pairTable(problem);
  const worth = (set: readonly number[], one: number) =>
    set.reduce((total, other) => total + (other === one ? 0 : pairOf(one, other).gain), 0);
  const byNeed = pool.toSorted((a, b) => needFirst(problem, a, b));
  if (byNeed.length <= n) return told(byNeed, pairOf);

  let chosen: number[] = [];
  if (n > 1) chosen = best(pairsOf(byNeed), ([a, b]) => pairOf(a, b).gain) ?? [];
  while (chosen.length < n) {
    const rest = byNeed.filter((one) => !chosen.includes(one));
    const next = best(rest, (one) => worth(chosen, one));
    if (next === undefined) break;
    chosen = [...chosen, next];
  }
  return told(exchanged(chosen, byNeed, worth), pairOf);
}

function exchanged(
  start: readonly number[],
  pool: readonly number[],
  worth: (set: readonly number[], one: number) => number,
): readonly number[] {
  let chosen = start;
  // Every exchange raises the sum, so there is an end; the bound is for rounding.
  for (let round = 0; round < MOST_EXCHANGES; round++) {
    const swaps = chosen.flatMap((out) => {
      const kept = chosen.filter((one) => one !== out);
      const loss = worth(kept, out);
      return pool
        .filter((one) => !chosen.includes(one))
        .map((into) => ({ out, into, gain: worth(kept, into) - loss }));
    });
    const swap = best(swaps, ({ gain }) => gain);
    if (swap === undefined || swap.gain <= LEAST_GAIN) break;
    chosen = chosen.map((one) => (one === swap.out ? swap.into : one));
  }
  return chosen;
}

const MOST_EXCHANGES = 1000;
const LEAST_GAIN = 1e-12;

/** The first of those with the highest value. */
function best<T>(all: readonly T[], value: (one: T) => number): T | undefined {
  let found: { one: T; value: number } | undefined;
  for (const one of all) {
    const own = value(one);
    if (found === undefined || own > found.value + LEAST_GAIN) found = { one, value: own };
  }
  return found?.one;
}

/** Less often tasted first, then better, then in the order of the input. */
function needFirst({ tastings, mean }: LineupProblem, a: number, b: number): number {
  return (tastings[a] ?? 0) - (tastings[b] ?? 0) || (mean[b] ?? 0) - (mean[a] ?? 0) || a - b;
}

function pairsOf(set: readonly number[]): [number, number][] {
  return set.flatMap((a, at) => set.slice(at + 1).map((b): [number, number] => [a, b]));
}

type PairOf = (a: number, b: number) => DoubtfulPair;

function pairTable(problem: LineupProblem): PairOf {
  const weights = problem.weights ?? nearness(problem);
  const known = new Map<string, DoubtfulPair>();
  return (a, b) => {
    const key = a < b ? `${a} ${b}` : `${b} ${a}`;
    let pair = known.get(key);
    if (pair === undefined) {
      pair = doubtfulPair(problem, weights, Math.min(a, b), Math.max(a, b));
      known.set(key, pair);
    }
    return pair;
  };
}

function doubtfulPair(
  { mean, doubt, plateSd }: LineupProblem,
  weights: readonly number[],
  a: number,
  b: number,
): DoubtfulPair {
  const gap = (mean[a] ?? 0) - (mean[b] ?? 0);
  const variance = gapVariance(doubt, a, b);
  const wrong = wrongOrderChance(gap, variance);
  const wrongAfter = expectedWrongOrderChance(gap, variance, 2 * plateSd ** 2);
  const weight = Math.min(weights[a] ?? 0, weights[b] ?? 0);
  return {
    better: gap >= 0 ? a : b,
    worse: gap >= 0 ? b : a,
    wrong,
    wrongAfter,
    gain: Math.max(0, wrong - wrongAfter) * weight,
  };
}

function gapVariance(doubt: Doubt, a: number, b: number): number {
  if (doubt.kind === 'sd') return (doubt.sd[a] ?? 0) ** 2 + (doubt.sd[b] ?? 0) ** 2;
  const at = (row: number, column: number) => doubt.covariance[row]?.[column] ?? 0;
  return Math.max(0, at(a, a) + at(b, b) - 2 * at(a, b));
}

/** Twice the chance of being better than the one that now leads, at most 1: the leader has 1. */
function nearness({ mean, doubt }: LineupProblem): number[] {
  const leader = best([...mean.keys()], (one) => mean[one] ?? 0) ?? 0;
  return mean.map((own, one) =>
    one === leader
      ? 1
      : Math.min(
          1,
          2 * wrongOrderChance((mean[leader] ?? 0) - own, gapVariance(doubt, leader, one)),
        ),
  );
}

function told(chosen: readonly number[], pairOf: PairOf): LineupChoice {
  const pairs = pairsOf(chosen).map(([a, b]) => pairOf(a, b));
  return {
    chosen,
    pairs: pairs.toSorted((a, b) => b.gain - a.gain),
    gain: pairs.reduce((total, { gain }) => total + gain, 0),
  };
}
