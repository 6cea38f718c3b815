import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { seededRandom } from '../random/seeded-random.ts';
import { type BestFirst, plackettLuce } from './plackett-luce.ts';

const item = fc.integer({ min: 0, max: 4 });
/** Orders of some of five items; the booleans say where a tie with the one before is. */
const order = fc
  .tuple(
    fc.uniqueArray(item, { minLength: 1 }),
    fc.array(fc.boolean(), { minLength: 5, maxLength: 5 }),
  )
  .map(([items, tied]) => {
    const groups: number[][] = [];
    items.forEach((named, place) => {
      const last = groups.at(-1);
      if (last !== undefined && tied[place]) last.push(named);
      else groups.push([named]);
    });
    return groups;
  });
const orders = fc.array(order, { maxLength: 8 });

function expectClose(actual: readonly number[], expected: readonly number[], digits = 8): void {
  expect(actual).toHaveLength(expected.length);
  expected.forEach((value, i) => {
    expect(actual[i]).toBeCloseTo(value, digits);
  });
}

describe('plackettLuce', () => {
  it('sums log worths to 0 and worths to 1 within each group, and never gives NaN', () => {
    fc.assert(
      fc.property(orders, fc.constantFrom(0, 0.1, 0.5, 2), (given, prior) => {
        const result = plackettLuce(given, 5, { prior });
        for (const group of result.groups) {
          const sum = (values: readonly number[]) =>
            group.reduce((total, member) => total + (values[member] ?? Number.NaN), 0);
          expect(sum(result.logWorths)).toBeCloseTo(0, 9);
          expect(sum(result.worths)).toBeCloseTo(1, 9);
        }
        expect(result.groups.flat().sort()).toEqual([0, 1, 2, 3, 4]);
        expect(result.covariance.flat().every(Number.isFinite)).toBe(true);
        expect(result.logLikelihood).toBeLessThanOrEqual(1e-9);
        const wins = result.wins.reduce((total, count) => total + count, 0);
        const pairs = result.pairs.reduce((total, count) => total + count, 0);
        expect(wins).toBeCloseTo(pairs / 2, 9);
      }),
    );
  });

  it('with a prior, does not care how items are numbered', () => {
    fc.assert(
      fc.property(
        orders,
        fc.shuffledSubarray([0, 1, 2, 3, 4], { minLength: 5 }),
        (given, names) => {
          const renamed = given.map((groups) =>
            groups.map((group) => group.map((member) => names[member] ?? 0)),
          );
          const one = plackettLuce(given, 5);
          const other = plackettLuce(renamed, 5);
          expectClose(
            names.map((name) => other.logWorths[name] ?? Number.NaN),
            one.logWorths,
            6,
          );
        },
      ),
    );
  });

  it('counts an order given three times like three orders', () => {
    const given: BestFirst[] = [
      [[0], [1, 2], [3]],
      [[3], [0]],
      [[2], [1]],
      [[1], [0], [2]],
    ];
    const times = [3, 1, 2, 1];
    const repeated = given.flatMap((groups, i) => new Array<BestFirst>(times[i] ?? 0).fill(groups));
    const one = plackettLuce(given, 4, { times });
    const other = plackettLuce(repeated, 4);
    expectClose(one.logWorths, other.logWorths);
    expect(one.wins).toEqual(other.wins);
    expect(one.logLikelihood).toBeCloseTo(other.logLikelihood, 9);
  });

  it('has nothing to gain from a small step in any direction', () => {
    // Against the chance of each order written out from the model, subset by subset.
    const given: BestFirst[] = [
      [[0], [1, 2], [3]],
      [[3], [0], [1]],
      [[2], [1], [0]],
      [[1, 3], [2]],
    ];
    const result = plackettLuce(given, 4, { prior: 0 });
    const tie = result.ties[0]?.worth ?? Number.NaN;
    const best = chanceOfAll(given, result.worths, tie);
    expect(Math.log(best)).toBeCloseTo(result.logLikelihood, 10);
    for (let parameter = 0; parameter < 5; parameter++) {
      for (const factor of [1.02, 1 / 1.02]) {
        const worths = result.worths.map((worth, i) => (i === parameter ? worth * factor : worth));
        expect(chanceOfAll(given, worths, parameter === 4 ? tie * factor : tie)).toBeLessThan(best);
      }
    }
  });

  it('keeps an unbeaten item finite with a prior, more so the heavier it is', () => {
    const given: BestFirst[] = [
      [[0], [1], [2]],
      [[0], [2], [1]],
    ];
    const [light, heavy] = [plackettLuce(given, 3), plackettLuce(given, 3, { prior: 5 })];
    expect(light.converged).toBe(true);
    expect(light.groups).toEqual([[0, 1, 2]]);
    expect(light.components).toEqual([[0], [1, 2]]);
    expect(light.worths[0]).toBeGreaterThan(heavy.worths[0] ?? Number.NaN);
    expect(heavy.worths[0]).toBeGreaterThan(1 / 3);
    expect(light.worths[1]).toBeCloseTo(light.worths[2] ?? Number.NaN, 10);
  });

  it('without a prior, says which group is infinitely above which and fits within each', () => {
    // 0 and 1 beat each other 2 to 1 and both always beat 2 and 3, which split evenly; 4 and 5
    // never met them.
    const given: BestFirst[] = [
      [[0], [1], [2]],
      [[0], [1], [3]],
      [[1], [0], [2]],
      [[2], [3]],
      [[3], [2]],
      [[4], [5]],
    ];
    const result = plackettLuce(given, 6, { prior: 0 });
    const place = (member: number) =>
      result.components.findIndex((group) => group.includes(member));
    expect(result.groups).toEqual(result.components);
    expect([...result.components].sort()).toEqual([[0, 1], [2, 3], [4], [5]]);
    const isAbove = (one: number, other: number) => result.above[place(one)]?.[place(other)];
    expect(isAbove(0, 3)).toBe(true);
    expect(isAbove(3, 0)).toBe(false);
    expect(isAbove(4, 5)).toBe(true);
    expect(isAbove(0, 4) || isAbove(4, 0) || isAbove(0, 5) || isAbove(5, 0)).toBe(false);
    expectClose(result.worths, [2 / 3, 1 / 3, 1 / 2, 1 / 2, 1, 1]);
    // The bound: 2 to 1 three times over, then an even split twice; all else is certain in the
    // limit.
    expect(result.logLikelihood).toBeCloseTo(Math.log((4 / 27) * (1 / 4)), 9);
  });

  it('reaches that bound as the prior goes to 0', () => {
    const given: BestFirst[] = [
      [[0], [1], [2]],
      [[1], [0], [2]],
      [[0], [1]],
      [[2], [3]],
      [[3], [2]],
    ];
    const limit = plackettLuce(given, 4, { prior: 0 });
    const near = plackettLuce(given, 4, { prior: 1e-7 });
    expect(near.logLikelihood).toBeCloseTo(limit.logLikelihood, 5);
    const ratio = (near.worths[0] ?? 0) / (near.worths[1] ?? 1);
    expect(ratio).toBeCloseTo((limit.worths[0] ?? 0) / (limit.worths[1] ?? 1), 5);
  });

  it('leaves out a tie parameter that only ever grows', () => {
    const given: BestFirst[] = [[[0, 1, 2]], [[2, 0, 1]], [[0], [1]], [[1], [2]], [[2], [0]]];
    const { ties, worths, converged } = plackettLuce(given, 3, { prior: 0 });
    expect(ties).toEqual([{ size: 3, worth: undefined, standardError: undefined }]);
    expect(converged).toBe(true);
    expectClose(worths, [1 / 3, 1 / 3, 1 / 3]);
  });

  it('says when worths run off although a chain joins the items both ways', () => {
    // With a tie parameter that may grow with them, worths can make both ties and the win as
    // certain as one likes.
    const given: BestFirst[] = [[[0], [1]], [[1, 2]], [[2, 0]]];
    const result = plackettLuce(given, 3, { prior: 0 });
    expect(result.components).toHaveLength(1);
    expect(result.ties[0]?.worth).toBeUndefined();
    expect(plackettLuce(given, 3).ties[0]?.worth).toBeGreaterThan(0);
  });

  it('puts items that no order joins into groups of their own', () => {
    const result = plackettLuce(
      [
        [[0], [2]],
        [[1], [3]],
      ],
      5,
    );
    expect(result.groups).toEqual([[0, 2], [1, 3], [4]]);
    expectClose([result.logWorths[0] ?? 0], [result.logWorths[1] ?? 1]);
    expect(result.worths[4]).toBe(1);
    expect(plackettLuce([], 0).logWorths).toEqual([]);
    expect(plackettLuce([], 0, { prior: 0 }).logWorths).toEqual([]);
    expect(plackettLuce([[[1]]], 2, { prior: 0 }).logWorths).toEqual([0, 0]);
  });

  it('recovers worths that orders were drawn from, within 4 standard errors', () => {
    const truth = [1.2, 0.6, 0.1, -0.3, -0.6, -1];
    const random = seededRandom(20);
    const drawn = Array.from({ length: 2000 }, () => {
      // Gumbel noise on log worths gives Plackett-Luce orders (Yellott 1977, J. Math. Psychology
      // 15:109-144).
      const noisy = truth.map((log, i) => ({
        i,
        at: log - Math.log(-Math.log(1 - random.uniform())),
      }));
      return noisy.sort((a, b) => b.at - a.at).map(({ i }) => [i]);
    });
    const result = plackettLuce(drawn, 6, { prior: 0 });
    truth.forEach((log, i) => {
      const error = Math.sqrt(result.covariance[i]?.[i] ?? Number.NaN);
      expect(Math.abs((result.logWorths[i] ?? 0) - log)).toBeLessThan(4 * error);
    });
  });

  it('refuses what is not an order of the items', () => {
    expect(() => plackettLuce([[[0], [3]]], 3)).toThrow(RangeError);
    expect(() => plackettLuce([[[0], [0]]], 3)).toThrow(RangeError);
    expect(() => plackettLuce([[[0], []]], 3)).toThrow(RangeError);
    expect(() => plackettLuce([[[0], [1]]], 3, { prior: -1 })).toThrow(RangeError);
    expect(() => plackettLuce([[[0], [1]]], 3, { times: [-1] })).toThrow(RangeError);
    expect(() => plackettLuce([[[0], [1]]], 3, { times: [] })).toThrow(RangeError);
  });
});

/** Chance of orders under ties of two at most, from the definition. */
function chanceOfAll(given: readonly BestFirst[], worths: readonly number[], tie: number): number {
  const worth = (members: readonly number[]) =>
    members.length === 1
      ? (worths[members[0] ?? 0] ?? 0)
      : tie * Math.sqrt(members.reduce((product, member) => product * (worths[member] ?? 0), 1));
  let chance = 1;
  for (const groups of given) {
    groups.forEach((group, place) => {
      const rest = groups.slice(place).flat();
      const singles = rest.map((member) => worth([member]));
      const doubles = rest.flatMap((one, i) =>
        rest.slice(i + 1).map((other) => worth([one, other])),
      );
      const total = [...singles, ...doubles].reduce((sum, value) => sum + value, 0);
      chance *= worth(group) / total;
    });
  }
  return chance;
}
