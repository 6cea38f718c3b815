import { Matrix } from 'ml-matrix';
import type { Curvature } from '../numbers/newton-maximum.ts';
import { floatAt } from '../numbers/number-at.ts';
import type { Choices } from './choice-sets.ts';
import { tiedSubsets } from './tied-subsets.ts';

/**
 * Log-likelihood of choices, with its slopes and minus its second derivatives, as a function of the
 * parameters: log w of every item, then log d of every tie size.
 *
 * From a set A of items with worths w, a set S of k items is chosen with probability proportional
 * to d_k (product of w over S)^(1/k), d_1 = 1, where k is 1 or one of `tieSizes` not above the size
 * of A: the Davidson-Luce model (Turner, van Etten, Firth and Kosmidis 2020, Computational
 * Statistics 35:1027-1057; Davidson 1970, JASA 65:317-328 for pairs; Luce 1959 without ties).
 *
 * @param tieSizes the sizes of tie that the model knows, each 2 or more
 */
export function choiceLikelihood(
  choices: Choices,
  tieSizes: readonly number[],
): (parameters: Float64Array) => Curvature {
  const items = choices.chosen.length;
  const observed = Float64Array.of(
    ...choices.chosen,
    ...tieSizes.map((size) => choices.ties.get(size) ?? 0),
  );
  const sets = choices.sets.map((set) => ({
    times: set.times,
    places: Int32Array.of(
      ...set.items,
      ...tieSizes.flatMap((size, t) => (size <= set.items.length ? [items + t] : [])),
    ),
    size: set.items.length,
  }));
  const moments = choiceMoments(
    sets.reduce((most, { size }) => Math.max(most, size), 0),
    tieSizes,
  );
  return (parameters) => {
    const gradient = Float64Array.from(observed);
    const information = new Float64Array(parameters.length ** 2);
    let value = 0;
    observed.forEach((times, i) => {
      value += times * floatAt(parameters, i);
    });
    for (const { times, places, size } of sets) {
      value -= times * moments.at(places, size, parameters);
      subtractExpected(moments, places, times, gradient, information);
    }
    return { value, gradient, information: mirrored(information, parameters.length) };
  };
}

/**
 * What one choice is expected to add to the count of each parameter that its set has to do with.
 */
type Moments = {
  readonly expected: Float64Array;
  /**
   * Expected products of counts, above the diagonal and on it, in rows as long as the list of
   * places.
   */
  readonly products: Float64Array;
  /**
   * Fills both for a set, given its places among the parameters; returns the log of its total
   * worth.
   */
  at(places: Int32Array, items: number, parameters: Float64Array): number;
};

function choiceMoments(mostItems: number, tieSizes: readonly number[]): Moments {
  const most = mostItems + tieSizes.length;
  const worths = new Float64Array(mostItems);
  const expected = new Float64Array(most);
  const products = new Float64Array(most * most);
  const subsets = tiedSubsets(mostItems, Math.max(1, ...tieSizes));
  const addTies = (size: number, factor: number, items: number, tie: number, width: number) => {
    const { all, holding, holdingBoth } = subsets(worths, items, size);
    // An item of a tie of k has a share of 1/k in the choice; squares and products with others have
    // 1/k^2.
    for (let i = 0; i < items; i++) {
      const row = i * width;
      const share = (factor * floatAt(holding, i)) / size;
      expected[i] = floatAt(expected, i) + share;
      products[row + i] = floatAt(products, row + i) + share / size;
      products[row + tie] = share;
      for (let j = i + 1; j < items; j++) {
        const both = (factor * floatAt(holdingBoth, i * items + j)) / (size * size);
        products[row + j] = floatAt(products, row + j) + both;
      }
    }
    expected[tie] = factor * all;
    products[tie * width + tie] = factor * all;
    return factor * all;
  };
  return {
    expected,
    products,
    at(places, items, parameters) {
      const width = places.length;
      const greatest = fillWorths(worths, places, items, parameters);
      products.fill(0, 0, width * width);
      let total = 0;
      for (let i = 0; i < items; i++) {
        const worth = floatAt(worths, i);
        total += worth;
        expected[i] = worth;
        products[i * width + i] = worth;
      }
      for (let tie = items; tie < width; tie++) {
        const factor = Math.exp(floatAt(parameters, places[tie] ?? -1));
        total += addTies(tieSizes[tie - items] ?? 0, factor, items, tie, width);
      }
      for (let i = 0; i < width; i++) expected[i] = floatAt(expected, i) / total;
      for (let i = 0; i < width * width; i++) products[i] = floatAt(products, i) / total;
      return greatest + Math.log(total);
    },
  };
}

/**
 * Worths over the greatest of them, which changes no chance and cannot overflow; returns the log of
 * that.
 */
function fillWorths(
  worths: Float64Array,
  places: Int32Array,
  items: number,
  parameters: Float64Array,
): number {
  let greatest = Number.NEGATIVE_INFINITY;
  for (let i = 0; i < items; i++) {
    greatest = Math.max(greatest, floatAt(parameters, places[i] ?? -1));
  }
  for (let i = 0; i < items; i++) {
    worths[i] = Math.exp(floatAt(parameters, places[i] ?? -1) - greatest);
  }
  return greatest;
}

/**
 * Takes expected counts from the slopes and adds their covariance to the information, above the
 * diagonal.
 */
function subtractExpected(
  { expected, products }: Moments,
  places: Int32Array,
  times: number,
  gradient: Float64Array,
  information: Float64Array,
): void {
  const width = places.length;
  for (let i = 0; i < width; i++) {
    const mean = floatAt(expected, i);
    const place = places[i] ?? -1;
    const row = place * gradient.length;
    gradient[place] = floatAt(gradient, place) - times * mean;
    // Places are ascending, so this stays above the diagonal.
    for (let j = i; j < width; j++) {
      const at = row + (places[j] ?? -1);
      const covariance = floatAt(products, i * width + j) - mean * floatAt(expected, j);
      information[at] = floatAt(information, at) + times * covariance;
    }
  }
}

function mirrored(upper: Float64Array, size: number): Matrix {
  const matrix = Matrix.zeros(size, size);
  for (let i = 0; i < size; i++) {
    for (let j = i; j < size; j++) {
      const value = floatAt(upper, i * size + j);
      matrix.set(i, j, value);
      matrix.set(j, i, value);
    }
  }
  return matrix;
}
