import { numberAt } from '../numbers/number-at.ts';
import { seededRandom } from './seeded-random.ts';

/**
 * Deals serving orders from Williams squares to any number of tasters, at random but for good by
 * the seed.
 *
 * Samples are renamed at random for each pass through the design, the orders of each square are
 * dealt in random order, and one square is finished before the next is begun: among any number of
 * tasters, two samples differ by at most one in how often they are in a place. After each whole
 * pass (t orders for even t, 2 t for odd) each sample has also followed each other one equally
 * often.
 *
 * Source: Williams 1949 (see `williamsSquare`); use for tasting panels: MacFie, Bratchell,
 * Greenhoff and Vallis 1989, Journal of Sensory Studies 4:129-148 (cited from memory).
 *
 * @param samples how many, 1 or more
 * @param tasters how many, 0 or more
 * @param seed a whole number, 0 to 2^53 - 1
 * @returns by taster, the sample numbers 0 to samples - 1 in the order to be served
 * @throws RangeError if a number is none of these
 */
export function servingOrders(samples: number, tasters: number, seed: number): number[][] {
  if (!Number.isSafeInteger(tasters) || tasters < 0) {
    throw new RangeError(`${tasters} is not a number of tasters`);
  }
  const random = seededRandom(seed);
  const design = williamsSquare(samples);
  const squares = Array.from({ length: design.length / samples }, (_, square) =>
    design.slice(square * samples, (square + 1) * samples),
  );
  const orders: number[][] = [];
  while (orders.length < tasters) {
    const names = random.shuffle(Array.from({ length: samples }, (_, sample) => sample));
    for (const square of random.shuffle(squares)) {
      for (const order of random.shuffle(square)) {
        orders.push(order.map((sample) => numberAt(names, sample)));
      }
    }
  }
  return orders.slice(0, tasters);
}

/**
 * Serving orders of t samples in which each sample is in each place equally often and follows each
 * other sample equally often: t orders if t is even, 2 t if it is odd.
 *
 * Method: one order steps 0, 1, t - 1, 2, t - 2 ...; the others add 1 to t - 1 to it, modulo t. For
 * odd t they are followed by the same orders read backwards.
 *
 * Source: Williams 1949, Experimental designs balanced for the estimation of residual effects of
 * treatments, Australian Journal of Scientific Research A 2:149-168.
 *
 * @param t how many samples, 1 or more
 * @returns orders of the sample numbers 0 to t - 1
 * @throws RangeError if t is not a whole number of 1 or more
 * @example williamsSquare(4) // => [[0, 1, 3, 2], [1, 2, 0, 3], [2, 3, 1, 0], [3, 0, 2, 1]]
 */
export function williamsSquare(t: number): number[][] {
  if (!Number.isSafeInteger(t) || t < 1)
    throw new RangeError(`${t} samples cannot be put in order`);
  const first = Array.from({ length: t }, (_, place) => {
    const step = Math.ceil(place / 2);
    return place % 2 === 1 ? step : (t - step) % t;
  });
  const square = first.map((_, shift) => first.map((sample) => (sample + shift) % t));
  return t % 2 === 0 || t === 1 ? square : [...square, ...square.map((row) => row.toReversed())];
}
