import { CholeskyDecomposition, Matrix, pseudoInverse } from 'ml-matrix';
import { centredCovariance, centredWithin, sharesWithin } from '../numbers/centred-covariance.ts';
import { connectedGroups } from '../numbers/connected-groups.ts';
import { type Maximum, newtonMaximum } from '../numbers/newton-maximum.ts';
import { numberAt } from '../numbers/number-at.ts';
import { choiceLikelihood } from './choice-likelihood.ts';
import { type Choices, choiceSets, type WeightedOrder } from './choice-sets.ts';
import { sharedLuck } from './shared-luck.ts';
import { pairWins, winComponents } from './win-components.ts';

/** A best-first order: groups of item numbers, a group of more than one being a tie. */
export type BestFirst = readonly (readonly number[])[];

export type PlackettLuceOptions = {
  /**
   * Wins, and as many losses, that every item is given against one hypothetical item (default 0.5).
   * 0 is plain maximum likelihood.
   */
  readonly prior?: number;
  /** How often each order was given (default once each). */
  readonly times?: readonly number[];
  /**
   * What each order shares luck with, by number: orders of one cluster are not independent, so
   * variances are multiplied by `sharedLuck`. Left out, every order is independent.
   */
  readonly clusters?: readonly number[];
};

export type TieParameter = {
  /** How many items are tied. */
  readonly size: number;
  /** Worth of such a tie between items of worth 1; absent if the likelihood only grows with it. */
  readonly worth: number | undefined;
  /** Of the logarithm of the worth; absent with it. */
  readonly standardError: number | undefined;
};

export type PlackettLuce = {
  /** By item; sum to 0 within each group of `groups`. */
  readonly logWorths: readonly number[];
  /** By item; sum to 1 within each group of `groups`. */
  readonly worths: readonly number[];
  /** Of the log worths, centred in the same way; entries between groups say nothing. */
  readonly covariance: readonly (readonly number[])[];
  /** How many times larger it is for the luck that orders share; 1 where they share none. */
  readonly luck: number;
  readonly ties: readonly TieParameter[];
  /**
   * Of the orders alone, without the prior; with prior 0 and several groups its least upper bound.
   */
  readonly logLikelihood: number;
  /**
   * By item: pairs within an order in which it stood above the other item, a tie counting one half.
   */
  readonly wins: readonly number[];
  /** By item: how many pairs that is out of. */
  readonly pairs: readonly number[];
  /**
   * Within which items can be compared. With a prior: items that orders join, directly or through
   * others. With prior 0: the components.
   */
  readonly groups: readonly (readonly number[])[];
  /** Items joined both ways by chains of wins or ties, no component after one that it is above. */
  readonly components: readonly (readonly number[])[];
  /**
   * `above[g][h]`: component g beats h, if only through others, and never the reverse: infinitely
   * above it.
   */
  readonly above: readonly (readonly boolean[])[];
  readonly iterations: number;
  /** False if the search did not settle on finite log worths; a prior above 0 is then needed. */
  readonly converged: boolean;
};

const DEFAULT_PRIOR = 0.5;

/**
 * A logarithm beyond this is taken to be on its way to infinity: one worth is 10^8 times another.
 */
const RUN_OFF = 20;
/** By here, all that does not run off has settled. */
const SEARCH_BOUND = 40;

/**
 * Plackett-Luce worths from best-first orders, partial and with ties of any size.
 *
 * Model: Davidson-Luce (see `choiceLikelihood`) with the prior of Turner, van Etten, Firth and
 * Kosmidis 2020, Modelling rankings in R: the PlackettLuce package, Computational Statistics
 * 35:1027-1057: comparisons of each item with one hypothetical item keep the worth of an unbeaten
 * item finite. An item absent from an order was not there to be chosen; an order of one item says
 * nothing.
 *
 * With prior 0, worths exist only within the components of the win graph. Those given are the
 * limits that they tend to as the likelihood nears its bound, and components cannot be compared
 * beyond what `above` says.
 *
 * Standard errors come from the information in the orders and the prior together; the model being
 * log-linear, observed and expected information given the sets chosen from are the same.
 *
 * Accuracy: log worths within 1e-8 of the reference values (tests/reference/plackett-luce.test.ts).
 *
 * @param orders of item numbers 0 to items - 1
 * @param items how many items there are
 * @throws RangeError for an item out of range or twice in an order, an empty group, a negative
 *   prior or count
 */
export function plackettLuce(
  orders: readonly BestFirst[],
  items: number,
  options: PlackettLuceOptions = {},
): PlackettLuce {
  const { prior = DEFAULT_PRIOR, times, clusters } = options;
  if (!(prior >= 0 && Number.isFinite(prior))) throw new RangeError(`prior ${prior} is below 0`);
  const weighted = weightedOrders(orders, items, times);
  const graph = winComponents(orders, items);
  const named = orders.map((order) => order.flat());
  const groups = prior > 0 ? connectedGroups(items, named) : graph.components;
  const component = prior > 0 ? undefined : groupOf(groups, items);
  const choices = choiceSets(weighted, items, component);
  const sizes = [...choices.ties.keys()].sort((a, b) => a - b);
  const pseudo = prior > 0 ? priorChoices(items, prior) : undefined;
  const maximum = fitted(choices, pseudo, sizes, groups);
  const logTies = maximum.point.slice(maximum.point.length - sizes.length);
  const logWorths = centredWithin(maximum.point.slice(0, items), groups);
  const runOff = [...logTies].map((log) => Math.abs(log) > RUN_OFF);
  const independent = parameterCovariance(maximum.at.information, runOff);
  const luck = sharedLuck(
    independent,
    [...new Set(clusters)].map((cluster) => {
      const own = weighted.filter((_, order) => clusters?.[order] === cluster);
      const { chosen, ...sets } = choiceSets(own, items, component);
      const padded = new Float64Array(maximum.point.length - sizes.length);
      padded.set(chosen);
      return choiceLikelihood({ ...sets, chosen: padded }, sizes)(maximum.point);
    }),
  );
  const covariance = Matrix.mul(independent, luck);
  return {
    logWorths: [...logWorths],
    worths: [...sharesWithin(logWorths, groups)],
    covariance: centredCovariance(covariance.to2DArray(), groups),
    luck,
    ties: sizes.map((size, t) => {
      if (runOff[t]) return { size, worth: undefined, standardError: undefined };
      const place = covariance.rows - sizes.length + t;
      const standardError = Math.sqrt(covariance.get(place, place));
      return { size, worth: Math.exp(numberAt(logTies, t)), standardError };
    }),
    logLikelihood:
      pseudo === undefined
        ? maximum.at.value
        : maximum.at.value - choiceLikelihood(pseudo, sizes)(maximum.point).value,
    ...pairWins(weighted, items),
    groups,
    components: graph.components,
    above: graph.above,
    iterations: maximum.iterations,
    converged:
      (maximum.converged || runOff.includes(true)) &&
      logWorths.every((log) => Math.abs(log) <= RUN_OFF),
  };
}

function weightedOrders(
  orders: readonly BestFirst[],
  items: number,
  times: readonly number[] | undefined,
): WeightedOrder[] {
  return orders.map((groups, place) => {
    const named = groups.flat();
    const count = times === undefined ? 1 : numberAt(times, place);
    if (!(count >= 0 && Number.isFinite(count))) throw new RangeError(`count ${count} is below 0`);
    if (groups.some((group) => group.length === 0)) throw new RangeError('a group is empty');
    if (new Set(named).size < named.length) throw new RangeError('an item is twice in an order');
    const strange = named.find((item) => !(Number.isInteger(item) && item >= 0 && item < items));
    if (strange !== undefined) throw new RangeError(`item ${strange} is not one of ${items}`);
    return { groups, times: count };
  });
}

/**
 * Comparisons of each item with a hypothetical one, numbered last: `prior` won and `prior` lost.
 */
function priorChoices(items: number, prior: number): Choices {
  const sets = Array.from({ length: items }, (_, item) => ({
    items: [item, items],
    times: 2 * prior,
  }));
  const chosen = new Float64Array(items + 1).fill(prior);
  chosen[items] = items * prior;
  return { sets, chosen, ties: new Map() };
}

/**
 * Parameters: log worths, with a prior the hypothetical item's after them, then log tie worths. Log
 * worths sum to 0 within groups, with a prior over everything.
 */
function fitted(
  choices: Choices,
  pseudo: Choices | undefined,
  tieSizes: readonly number[],
  groups: readonly (readonly number[])[],
): Maximum {
  const all = pseudo === undefined ? choices : withPrior(choices, pseudo);
  const items = all.chosen.length;
  const anchors = pseudo === undefined ? groups : [Array.from({ length: items }, (_, i) => i)];
  const likelihood = choiceLikelihood(all, tieSizes);
  const evaluate = (point: Float64Array) => {
    const curvature = likelihood(point);
    return { ...curvature, information: anchored(curvature.information, anchors) };
  };
  return newtonMaximum(evaluate, new Float64Array(items + tieSizes.length), SEARCH_BOUND);
}

function withPrior(choices: Choices, pseudo: Choices): Choices {
  return {
    sets: [...choices.sets, ...pseudo.sets],
    chosen: pseudo.chosen.map((times, item) => times + (choices.chosen[item] ?? 0)),
    ties: choices.ties,
  };
}

/**
 * Chances do not change when the worths of a group are multiplied by a number: the information has
 * nothing on that direction. Adding some there keeps the group's log worths at their sum and
 * changes no contrast.
 */
function anchored(information: Matrix, groups: readonly (readonly number[])[]): Matrix {
  const scale = information.trace() / information.rows || 1;
  for (const group of groups) {
    for (const row of group) {
      for (const column of group) {
        information.set(row, column, information.get(row, column) + scale / group.length);
      }
    }
  }
  return information;
}

/** Inverse of the information, without tie parameters that have run off. */
function parameterCovariance(information: Matrix, runOff: readonly boolean[]): Matrix {
  const first = information.rows - runOff.length;
  const kept = Array.from({ length: information.rows }, (_, i) => i).filter(
    (place) => !runOff[place - first],
  );
  const inner = information.selection(kept, kept);
  const cholesky = new CholeskyDecomposition(inner);
  const inverse = cholesky.isPositiveDefinite()
    ? cholesky.solve(Matrix.eye(kept.length))
    : pseudoInverse(inner, 1e-10);
  const covariance = Matrix.zeros(information.rows, information.rows);
  kept.forEach((row, i) => {
    kept.forEach((column, j) => {
      covariance.set(row, column, inverse.get(i, j));
    });
  });
  return covariance;
}

function groupOf(groups: readonly (readonly number[])[], items: number): Int32Array {
  const group = new Int32Array(items);
  groups.forEach((members, g) => {
    for (const item of members) group[item] = g;
  });
  return group;
}
