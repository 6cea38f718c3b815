import { seededRandom } from '../../stats/random/seeded-random.ts';
import { type Standing, settleChance } from '../verdict/settle-chance.ts';
import { expectedWrongOrderChance, wrongOrderChance } from './wrong-order-chance.ts';

/** What is believed of some cultivars, by number, and what plates of them would say. */
export interface LineupProblem {
  /** Mean of each index. */
  readonly mean: readonly number[];
  /** Covariances: of the indexes, of an index (row) with what tasters like (column), and of that. */
  readonly index: readonly Float64Array[];
  readonly indexTaste: readonly Float64Array[];
  readonly taste: readonly Float64Array[];
  /** What can be served. */
  readonly candidates: readonly CandidatePlate[];
  /** How many at most, each of another cultivar. */
  readonly n: number;
  /** Variance of a plate as all tasters together score it, and of what a sitting adds to all of them. */
  readonly plateVariance: number;
  readonly sittingVariance: number;
  readonly aim: LineupAim;
}

/** A plate that can be served: of a cultivar, from one of its trees. */
export interface CandidatePlate {
  readonly cultivar: number;
  /** See `PlateNews`. */
  readonly slope: number;
  readonly rest: number;
  /** Sittings at which the cultivar was tasted; of choices that tell as much, the less tasted come first. */
  readonly tastings: number;
}

export type LineupAim =
  /** The right order: a pair counts by the greater of the two weights, 0 to 1. */
  | { readonly for: 'order'; readonly weights: readonly number[] }
  /** Verdicts that are settled: each index against each mark. */
  | {
      readonly for: 'verdict';
      readonly standings: readonly Standing[];
      readonly marks: readonly number[];
    };

export interface LineupChoice {
  /** Places in the list of candidates, in the order in which they were chosen. */
  readonly chosen: readonly number[];
  /** Pairs that stand right, or verdicts that are settled. */
  readonly outlook: Outlook;
  /** The pair of each chosen one about which most is learnt; of a choice for the order. */
  readonly pairs: readonly (DoubtfulPair | undefined)[];
}

/** How many of all are in order: now, and as is to be expected after a sitting. */
export interface Outlook {
  /** Pairs by their weights, or verdicts. */
  readonly all: number;
  readonly now: number;
  readonly after: number;
  /** After any others, and after the least tasted; absent where all that is there is served. */
  readonly afterAny: number | undefined;
  readonly afterLeastTasted: number | undefined;
}

/** Two cultivars and their order. */
export interface DoubtfulPair {
  /** The one that seems better. */
  readonly better: number;
  readonly worse: number;
  /** Chance that they truly stand the other way round, up to 0.5, and what it is expected to be after the sitting. */
  readonly wrong: number;
  readonly wrongAfter: number;
}

/**
 * Chooses what to taste together: one after another, whatever can be expected to leave the fewest pairs near the top
 * in the wrong order (`expectedWrongOrderChance`), or to settle most verdicts (`settleChance`).
 *
 * A plate c of cultivar i is worth slope x taste_i + rest + what the sitting adds, and is seen with the plate's own
 * variance r. Once it is served, with a = C_c / sqrt(Q_cc + r) and q = Q_c / sqrt(Q_cc + r), the covariances V of the
 * indexes lose a a', C of index and plates a q', Q of the plates q q': what a sitting says of all cultivars at once,
 * known before it is held. All pairs of cultivars count, not those of the set alone. Exchanges afterwards gain nothing
 * to speak of. For the order, what was never tasted comes first: without a score it has no rank at all, which no chance
 * of a wrong order counts.
 */
export function chooseLineup(problem: LineupProblem): LineupChoice {
  const goal = goalOf(problem);
  const start = new Belief(problem);
  const nothing = new Float64Array(problem.mean.length);
  const now = goal.missing(start, nothing);
  const chosen: number[] = [];
  const belief = new Belief(problem);
  for (let open = allOf(problem); chosen.length < problem.n && open.length > 0; ) {
    const unranked = open.filter((at) => tastingsOf(problem, at) === 0);
    const first = problem.aim.for === 'order' && unranked.length > 0 ? unranked : open;
    const ranked = first.map((at) => ({ at, missing: goal.missing(belief, belief.pull(at)) }));
    const least = Math.min(...ranked.map(({ missing }) => missing));
    const [next] = ranked
      .filter(({ missing }) => missing <= least + TIE)
      .map(({ at }) => at)
      .toSorted((a, b) => tastingsOf(problem, a) - tastingsOf(problem, b) || a - b);
    if (next === undefined) break;
    belief.observe(next);
    chosen.push(next);
    open = open.filter((at) => cultivarOf(problem, at) !== cultivarOf(problem, next));
  }
  const after = (set: readonly number[]) =>
    goal.all - goal.missing(observed(problem, set), nothing);
  const cultivars = firstOfEach(problem);
  const served = chosen.length < cultivars.length;
  return {
    chosen,
    outlook: {
      all: goal.all,
      now: goal.all - now,
      after: goal.all - goal.missing(belief, nothing),
      afterAny: served ? mean(someSets(cultivars, chosen.length).map(after)) : undefined,
      afterLeastTasted: served
        ? after(
            cultivars
              .toSorted((a, b) => tastingsOf(problem, a) - tastingsOf(problem, b) || a - b)
              .slice(0, chosen.length),
          )
        : undefined,
    },
    pairs: chosen.map((at) => pairOf(problem, belief, cultivarOf(problem, at))),
  };
}

/** Expected losses this near are the same. */
const TIE = 1e-9;

function allOf({ candidates }: LineupProblem): number[] {
  return [...candidates.keys()];
}

function cultivarOf({ candidates }: LineupProblem, at: number): number {
  return candidates[at]?.cultivar ?? 0;
}

function tastingsOf({ candidates }: LineupProblem, at: number): number {
  return candidates[at]?.tastings ?? 0;
}

/** The first plate of each cultivar. */
function firstOfEach(problem: LineupProblem): number[] {
  const all = allOf(problem);
  const first = (at: number) =>
    all.findIndex((other) => cultivarOf(problem, other) === cultivarOf(problem, at));
  return all.filter((at) => first(at) === at);
}

function mean(values: readonly number[]): number {
  return values.reduce((sum, value) => sum + value, 0) / values.length;
}

/** Sets to hold a choice against: all that there are, or else so many. */
const SETS = 40;

function someSets(from: readonly number[], size: number): readonly (readonly number[])[] {
  const all = setsOf(from, size, SETS);
  if (all.length <= SETS) return all;
  // The average of so many random sets hardly hangs on which they are.
  const random = seededRandom(1);
  return Array.from({ length: SETS }, () => random.shuffle(from).slice(0, size));
}

/** All sets of a size, or a few more than `most` of them. */
function setsOf(from: readonly number[], size: number, most: number): readonly number[][] {
  let sets: number[][] = [[]];
  for (let length = 0; length < size; length++) {
    sets = sets.flatMap((set) =>
      from.slice(from.indexOf(set.at(-1) ?? -1) + 1).map((next) => [...set, next]),
    );
    sets = sets.filter((set) => {
      const rest = from.length - 1 - from.indexOf(set.at(-1) ?? -1);
      return rest >= size - set.length;
    });
    if (sets.length > most) return sets;
  }
  return sets;
}

function observed(problem: LineupProblem, set: readonly number[]): Belief {
  const belief = new Belief(problem);
  for (const at of set) belief.observe(at);
  return belief;
}

/** What is known of the indexes and the plates while plates are served in thought. */
class Belief {
  /** By row, covariances of the indexes. */
  readonly index: readonly Float64Array[];
  /** By candidate: covariances with the indexes, and with the plates of all candidates. */
  readonly #withIndex: readonly Float64Array[];
  readonly #plates: readonly Float64Array[];
  readonly #noise: number;

  constructor({
    index,
    indexTaste,
    taste,
    candidates,
    plateVariance,
    sittingVariance,
  }: LineupProblem) {
    this.index = index.map((row) => row.slice());
    this.#noise = plateVariance;
    this.#withIndex = candidates.map(({ cultivar, slope }) =>
      Float64Array.from(index, (_, j) => slope * (indexTaste[j]?.[cultivar] ?? 0)),
    );
    this.#plates = candidates.map((one, c) =>
      Float64Array.from(
        candidates,
        (other, d) =>
          one.slope * other.slope * (taste[one.cultivar]?.[other.cultivar] ?? 0) +
          (c === d ? one.rest : 0) +
          sittingVariance,
      ),
    );
  }

  /** How far the mean of each index is expected to move when a plate is served: standard deviations, with a sign. */
  pull(candidate: number): Float64Array {
    const own = this.#withIndex[candidate] as Float64Array;
    const scale = this.#scale(candidate);
    return own.map((value) => value / scale);
  }

  observe(candidate: number): void {
    const a = this.pull(candidate);
    const scale = this.#scale(candidate);
    const q = (this.#plates[candidate] as Float64Array).map((value) => value / scale);
    for (const [i, row] of this.index.entries()) lose(row, a, a[i] as number);
    for (const [c, row] of this.#withIndex.entries()) lose(row, a, q[c] as number);
    for (const [c, row] of this.#plates.entries()) lose(row, q, q[c] as number);
  }

  #scale(candidate: number): number {
    return Math.sqrt((this.#plates[candidate]?.[candidate] ?? 0) + this.#noise);
  }
}

function lose(row: Float64Array, vector: Float64Array, times: number): void {
  for (let at = 0; at < row.length; at++) {
    row[at] = (row[at] as number) - times * (vector[at] as number);
  }
}

/** What a choice is for. */
interface Goal {
  readonly all: number;
  /** How many of all can be expected to be wrong or open, with one more plate that pulls like this. */
  missing(belief: Belief, pull: Float64Array): number;
}

function goalOf(problem: LineupProblem): Goal {
  const { aim } = problem;
  return aim.for === 'order' ? orderGoal(problem, aim.weights) : verdictGoal(aim);
}

/** Pairs of two so far from the top do not count: they change no figure that is printed. */
const LEAST_WEIGHT = 0.002;

function orderGoal({ mean: level, index }: LineupProblem, weights: readonly number[]): Goal {
  const pairs = level.flatMap((own, i) =>
    level.slice(0, i).flatMap((other, j) => {
      const weight = Math.max(weights[i] ?? 0, weights[j] ?? 0);
      return weight < LEAST_WEIGHT
        ? []
        : [{ i, j, weight, gap: own - other, before: gapVariance(index, i, j) }];
    }),
  );
  return {
    all: pairs.reduce((sum, { weight }) => sum + weight, 0),
    missing: (belief, pull) => {
      let wrong = 0;
      for (const { i, j, weight, gap, before } of pairs) {
        const move = (pull[i] as number) - (pull[j] as number);
        const after = gapVariance(belief.index, i, j) - move * move;
        wrong += weight * expectedWrongOrderChance(gap, before, after);
      }
      return wrong;
    },
  };
}

function verdictGoal({ standings, marks }: Extract<LineupAim, { for: 'verdict' }>): Goal {
  return {
    all: standings.length * marks.length,
    missing: (belief, pull) => {
      let open = 0;
      standings.forEach((standing, i) => {
        const after = (belief.index[i]?.[i] ?? 0) - (pull[i] as number) ** 2;
        const left = standing.variance > 0 ? after / standing.variance : 1;
        // What rounding makes of nothing learnt is nothing learnt.
        const share = left > 1 - 1e-12 ? 1 : left;
        for (const mark of marks) {
          const { above, below } = settleChance(standing, mark, share);
          open += 1 - above - below;
        }
      });
      return open;
    },
  };
}

function gapVariance(index: readonly Float64Array[], i: number, j: number): number {
  const at = (row: number, column: number) => index[row]?.[column] ?? 0;
  return Math.max(0, at(i, i) + at(j, j) - 2 * at(i, j));
}

/** The pair of a cultivar of which the doubt falls most, weights counted. */
function pairOf(
  { mean: level, index, aim }: LineupProblem,
  belief: Belief,
  own: number,
): DoubtfulPair | undefined {
  if (aim.for !== 'order') return undefined;
  let best: (DoubtfulPair & { readonly gain: number }) | undefined;
  level.forEach((other, j) => {
    if (j === own) return;
    const gap = (level[own] ?? 0) - other;
    const before = gapVariance(index, own, j);
    const wrong = wrongOrderChance(gap, before);
    const wrongAfter = expectedWrongOrderChance(gap, before, gapVariance(belief.index, own, j));
    const gain = Math.max(aim.weights[own] ?? 0, aim.weights[j] ?? 0) * (wrong - wrongAfter);
    if (best !== undefined && gain <= best.gain + TIE) return;
    best = { better: gap >= 0 ? own : j, worse: gap >= 0 ? j : own, wrong, wrongAfter, gain };
  });
  return best;
}
