import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { chooseLineup, type LineupProblem } from './choose-lineup.ts';

/** Cultivars with a mean and a standard deviation each, all of them ripe. */
function problem(
  figures: readonly (readonly [mean: number, sd: number])[],
  rest: Partial<LineupProblem> = {},
): LineupProblem {
  return {
    mean: figures.map(([mean]) => mean),
    doubt: { kind: 'sd', sd: figures.map(([, sd]) => sd) },
    tastings: figures.map(() => 3),
    pool: figures.map((_, at) => at),
    n: 2,
    plateSd: 0.8,
    ...rest,
  };
}

const asProblem = fc
  .record({
    figures: fc.array(
      fc.tuple(
        fc.double({ min: 1, max: 10, noNaN: true }),
        fc.double({ min: 0.05, max: 2, noNaN: true }),
      ),
      { minLength: 1, maxLength: 9 },
    ),
    n: fc.integer({ min: 1, max: 6 }),
  })
  .map(({ figures, n }) => problem(figures, { n }));

const sorted = (list: readonly number[]) => list.toSorted((a, b) => a - b);

describe('chooseLineup', () => {
  it('takes the pair whose order is open before one that is settled', () => {
    // 0 and 1 are close at the top; 2 is far behind both, and as well known.
    const { chosen, pairs } = chooseLineup(
      problem([
        [8, 0.4],
        [7.9, 0.4],
        [4, 0.4],
      ]),
    );
    expect(sorted(chosen)).toEqual([0, 1]);
    expect(pairs[0]).toMatchObject({ better: 0, worse: 1 });
    expect(pairs[0]?.wrong).toBeGreaterThan(0.4);
    expect(pairs[0]?.wrongAfter).toBeLessThan(pairs[0]?.wrong ?? 0);
  });

  it('draws in what was never tasted', () => {
    const figures: [number, number][] = [
      [8, 0.2],
      [7, 0.2],
      [6, 0.2],
      [5, 0.2],
      [6.5, 1.6],
    ];
    const { chosen } = chooseLineup(problem(figures, { tastings: [6, 6, 6, 6, 0] }));
    expect(chosen).toContain(4);
  });

  it('looks at the top first: of two open pairs, the better one', () => {
    const { chosen } = chooseLineup(
      problem([
        [3, 0.5],
        [3, 0.5],
        [8, 0.5],
        [8, 0.5],
      ]),
    );
    expect(sorted(chosen)).toEqual([2, 3]);
  });

  it('minds the weights that it is given instead', () => {
    const open: [number, number][] = [
      [3, 0.5],
      [3, 0.5],
      [8, 0.5],
      [8, 0.5],
    ];
    expect(sorted(chooseLineup(problem(open, { weights: [1, 1, 0.2, 0.2] })).chosen)).toEqual([
      0, 1,
    ]);
  });

  it('knows that a shared error does not put an order in doubt', () => {
    const settled = (shared: number) =>
      chooseLineup({
        ...problem([
          [8, 1],
          [7, 1],
        ]),
        doubt: {
          kind: 'covariance',
          covariance: [
            [1, shared],
            [shared, 1],
          ],
        },
      }).pairs[0]?.wrong ?? Number.NaN;
    expect(settled(0.99)).toBeLessThan(0.01);
    // Independent: P(Z < -1 / sqrt 2) = 0.2398 by the table of the standard normal.
    expect(settled(0)).toBeCloseTo(0.2398, 4);
  });

  it('chooses among the ripe alone, each once, as many as asked or as there are', () => {
    fc.assert(
      fc.property(asProblem, fc.infiniteStream(fc.boolean()), (one, ripe) => {
        const pool = one.pool.filter(() => ripe.next().value === true);
        const { chosen, pairs, gain } = chooseLineup({ ...one, pool });
        expect(new Set(chosen).size).toBe(chosen.length);
        expect(chosen.length).toBe(Math.min(one.n, pool.length));
        expect(chosen.every((at) => pool.includes(at))).toBe(true);
        expect(pairs).toHaveLength((chosen.length * (chosen.length - 1)) / 2);
        for (const pair of pairs) {
          expect(pair.gain).toBeGreaterThanOrEqual(0);
          expect(one.mean[pair.better]).toBeGreaterThanOrEqual(one.mean[pair.worse] ?? 0);
        }
        expect(gain).toBeCloseTo(
          pairs.reduce((total, pair) => total + pair.gain, 0),
          12,
        );
      }),
    );
  });

  it('leaves no single exchange that would tell more', () => {
    fc.assert(
      fc.property(asProblem, (one) => {
        const { chosen, gain } = chooseLineup(one);
        const others = one.pool.filter((at) => !chosen.includes(at));
        for (const out of chosen) {
          for (const into of others) {
            const pool = chosen.map((at) => (at === out ? into : at));
            expect(chooseLineup({ ...one, pool }).gain).toBeLessThanOrEqual(gain + 1e-9);
          }
        }
      }),
      { numRuns: 60 },
    );
  });

  it('finds the best pair of all, whatever the order in which the ripe are named', () => {
    fc.assert(
      fc.property(asProblem, (one) => {
        const found = chooseLineup({ ...one, n: 2 });
        const turned = chooseLineup({ ...one, n: 2, pool: one.pool.toReversed() });
        expect(turned.gain).toBeCloseTo(found.gain, 12);
        for (const a of one.pool) {
          for (const b of one.pool.filter((at) => at > a)) {
            const { gain } = chooseLineup({ ...one, n: 2, pool: [a, b] });
            expect(gain).toBeLessThanOrEqual(found.gain + 1e-9);
          }
        }
      }),
      { numRuns: 60 },
    );
  });

  it('has nothing to choose where nothing is ripe', () => {
    expect(chooseLineup(problem([[5, 1]], { pool: [] }))).toEqual({
      chosen: [],
      pairs: [],
      gain: 0,
    });
  });
});
