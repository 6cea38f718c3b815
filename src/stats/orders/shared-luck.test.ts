import { describe, expect, it } from 'vitest';
import { seededRandom } from '../random/seeded-random.ts';
import { type BestFirst, plackettLuce } from './plackett-luce.ts';

const WORTHS = [1.2, 0.6, 0, -0.5, -1.3];

/** Orders of all items by the model itself: by log worth with noise of an extreme value (Luce 1959). */
function drawn(count: number, seed: number): BestFirst[] {
  const random = seededRandom(seed);
  return Array.from({ length: count }, () =>
    WORTHS.map((worth, item) => ({ item, felt: worth - Math.log(-Math.log(random.uniform())) }))
      .toSorted((a, b) => b.felt - a.felt)
      .map(({ item }) => [item]),
  );
}

const luckOf = (orders: readonly BestFirst[], clusters: readonly number[]) =>
  plackettLuce(orders, WORTHS.length, { prior: 0.5, clusters }).luck;

describe('the luck that orders share', () => {
  it('is none where every order is its own cluster, but for chance', () => {
    for (const seed of [1, 2, 3]) {
      const orders = drawn(200, seed);
      expect(luckOf(orders, [...orders.keys()])).toBeLessThan(1.15);
    }
  });

  it('is the number of times that each order was copied', () => {
    const orders = drawn(200, 4);
    const copied = orders.flatMap((order) => [order, order, order]);
    const luck = luckOf(
      copied,
      copied.map((_, at) => Math.floor(at / 3)),
    );
    expect(luck).toBeGreaterThan(2.5);
    expect(luck).toBeLessThan(3.5);
  });

  it('makes errors of copies those of the originals', () => {
    const orders = drawn(60, 5);
    const copied = orders.flatMap((order) => [order, order]);
    const clusters = copied.map((_, at) => Math.floor(at / 2));
    const once = plackettLuce(orders, 5, { prior: 0.01 });
    const twice = plackettLuce(copied, 5, { prior: 0.01, clusters });
    const ratio = (twice.covariance[0]?.[0] ?? 0) / (once.covariance[0]?.[0] ?? 1);
    expect(Math.abs(Math.log(ratio))).toBeLessThan(0.35);
  });

  it('never makes errors smaller, and is not told by one cluster', () => {
    const orders = drawn(6, 6);
    expect(
      luckOf(
        orders,
        orders.map(() => 0),
      ),
    ).toBe(1);
    expect(plackettLuce(orders, 5).luck).toBe(1);
    expect(luckOf(orders, [0, 0, 1, 1, 2, 2])).toBeGreaterThanOrEqual(1);
  });
});
