import { numberAt } from '../numbers/number-at.ts';
import { seededRandom } from './seeded-random.ts';
import { williamsSquare } from './williams-square.ts';

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
