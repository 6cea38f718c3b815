import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { servingOrders, williamsSquare } from './serving-orders.ts';

const sizes = Array.from({ length: 11 }, (_, i) => i + 2);

/** How often each key was seen. */
function counted(keys: readonly string[]): Map<string, number> {
  const counts = new Map<string, number>();
  for (const key of keys) counts.set(key, (counts.get(key) ?? 0) + 1);
  return counts;
}

const places = (orders: readonly (readonly number[])[]) =>
  counted(orders.flatMap((order) => order.map((sample, place) => `${sample} at ${place}`)));
const neighbours = (orders: readonly (readonly number[])[]) =>
  counted(
    orders.flatMap((order) => order.slice(1).map((sample, i) => `${order[i]} then ${sample}`)),
  );

describe('williamsSquare', () => {
  it.each(sizes)('balances place and carry-over for %i samples', (t) => {
    const orders = williamsSquare(t);
    const times = t % 2 === 0 ? 1 : 2;
    expect(orders).toHaveLength(t * times);
    const inPlace = places(orders);
    expect(inPlace.size).toBe(t * t);
    expect(new Set(inPlace.values())).toEqual(new Set([times]));
    const following = neighbours(orders);
    expect(following.size).toBe(t * (t - 1));
    expect(new Set(following.values())).toEqual(new Set([times]));
  });

  it('serves one sample alone and refuses none', () => {
    expect(williamsSquare(1)).toEqual([[0]]);
    for (const t of [0, -1, 2.5]) expect(() => williamsSquare(t)).toThrow(RangeError);
  });
});

describe('servingOrders', () => {
  it('gives every taster every sample once, with places shared out within one of even', () => {
    const asked = fc.tuple(
      fc.integer({ min: 1, max: 9 }),
      fc.integer({ min: 0, max: 40 }),
      fc.integer({ min: 0, max: 1000 }),
    );
    fc.assert(
      fc.property(asked, ([samples, tasters, seed]) => {
        const orders = servingOrders(samples, tasters, seed);
        expect(orders).toHaveLength(tasters);
        for (const order of orders) {
          expect([...order].sort((a, b) => a - b)).toEqual(
            Array.from({ length: samples }, (_, i) => i),
          );
        }
        const inPlace = places(orders);
        for (let sample = 0; sample < samples; sample++) {
          for (let place = 0; place < samples; place++) {
            const times = inPlace.get(`${sample} at ${place}`) ?? 0;
            expect(Math.abs(times - tasters / samples)).toBeLessThan(1);
          }
        }
      }),
    );
  });

  it.each([4, 5])('balances carry-over of %i samples after each whole pass', (t) => {
    const pass = t % 2 === 0 ? t : 2 * t;
    const following = neighbours(servingOrders(t, 3 * pass, 8));
    expect(following.size).toBe(t * (t - 1));
    expect(new Set(following.values())).toEqual(new Set([(3 * pass) / t]));
  });

  it('is the same for the same seed, another for another', () => {
    expect(servingOrders(6, 9, 1)).toEqual(servingOrders(6, 9, 1));
    expect(servingOrders(6, 9, 1)).not.toEqual(servingOrders(6, 9, 2));
    expect(() => servingOrders(3, -1, 1)).toThrow(RangeError);
    expect(() => servingOrders(0, 1, 1)).toThrow(RangeError);
  });
});
