import fc from 'fast-check';
import { inverse, Matrix } from 'ml-matrix';
import { describe, expect, it } from 'vitest';
import { normalCdf } from '../../stats/distributions/normal-cdf.ts';
import { chooseLineup, type LineupAim, type LineupProblem } from './choose-lineup.ts';

interface Made {
  readonly mean: number;
  readonly sd: number;
  readonly weight: number;
  readonly tastings?: number;
  readonly slope?: number;
}

/** Cultivars with independent doubts, the index all taste, every one of them to be had from one tree. */
function problem(made: readonly Made[], rest: Partial<LineupProblem> = {}): LineupProblem {
  const table = made.map(({ sd }, row) =>
    Float64Array.from(made, (_, column) => (row === column ? sd * sd : 0)),
  );
  return {
    mean: made.map(({ mean }) => mean),
    index: table,
    indexTaste: table,
    taste: table,
    candidates: made.map(({ tastings = 3, slope = 1 }, cultivar) => ({
      cultivar,
      slope,
      rest: 0.1,
      tastings,
    })),
    n: 2,
    plateVariance: 0.5,
    sittingVariance: 0.2,
    aim: { for: 'order', weights: made.map(({ weight }) => weight) },
    ...rest,
  };
}

const asMade = fc.record({
  mean: fc.double({ min: 1, max: 10, noNaN: true }),
  sd: fc.double({ min: 0.1, max: 2, noNaN: true }),
  weight: fc.double({ min: 0.05, max: 1, noNaN: true }),
});

/** What a set leaves of the covariances of the indexes, by the formula for a whole sitting at once. */
function leftAfter(
  { index, indexTaste, taste, candidates, plateVariance, sittingVariance }: LineupProblem,
  set: readonly number[],
): Matrix {
  const v = new Matrix(index.map((row) => [...row]));
  const own = set.flatMap((at) => candidates[at] ?? []);
  const c = new Matrix(
    index.map((_, j) => own.map(({ cultivar, slope }) => slope * (indexTaste[j]?.[cultivar] ?? 0))),
  );
  const seen = new Matrix(
    own.map((a, i) =>
      own.map(
        (b, j) =>
          a.slope * b.slope * (taste[a.cultivar]?.[b.cultivar] ?? 0) +
          sittingVariance +
          (i === j ? a.rest + plateVariance : 0),
      ),
    ),
  );
  return v.sub(c.mmul(inverse(seen)).mmul(c.transpose()));
}

/** Expected wrong order, by summing over what the estimate may become. */
function wrongBySlices(gap: number, before: number, after: number): number {
  const reach = Math.sqrt(before - after);
  if (!(reach > 1e-9)) return normalCdf(-Math.abs(gap) / Math.sqrt(before));
  const steps = 2000;
  const step = (16 * reach) / steps;
  let total = 0;
  for (let at = 0; at < steps; at++) {
    const x = gap - 8 * reach + (at + 0.5) * step;
    const density = Math.exp(-0.5 * ((x - gap) / reach) ** 2) / (reach * Math.sqrt(2 * Math.PI));
    total += density * normalCdf(-Math.abs(x) / Math.sqrt(after));
  }
  return total * step;
}

/** Pairs that can be expected to stand right after a set, all by other ways than the code under test. */
function rightAfter(one: LineupProblem, set: readonly number[]): number {
  const weights = one.aim.for === 'order' ? one.aim.weights : [];
  const left = leftAfter(one, set);
  let right = 0;
  for (let i = 0; i < one.mean.length; i++) {
    for (let j = 0; j < i; j++) {
      const before =
        (one.index[i]?.[i] ?? 0) + (one.index[j]?.[j] ?? 0) - 2 * (one.index[i]?.[j] ?? 0);
      const after = left.get(i, i) + left.get(j, j) - 2 * left.get(i, j);
      const gap = (one.mean[i] ?? 0) - (one.mean[j] ?? 0);
      const weight = Math.max(weights[i] ?? 0, weights[j] ?? 0);
      right += weight * (1 - wrongBySlices(gap, before, after));
    }
  }
  return right;
}

/** Five correlated cultivars, two of them little known, an index that is not all taste. */
const SMALL: LineupProblem = {
  ...problem([
    { mean: 7.2, sd: 0.5, weight: 0.8 },
    { mean: 7.0, sd: 0.4, weight: 0.7, slope: 0.8 },
    { mean: 6.4, sd: 0.9, weight: 0.6, tastings: 0 },
    { mean: 6.3, sd: 0.3, weight: 0.3, slope: 0.6 },
    { mean: 4.0, sd: 0.7, weight: 0.1 },
  ]),
  index: [0.5, 0.4, 0.9, 0.3, 0.7].map((a, i) =>
    Float64Array.from([0.5, 0.4, 0.9, 0.3, 0.7], (b, j) => (i === j ? a * b : 0.2 * a * b)),
  ),
  indexTaste: [0.5, 0.4, 0.9, 0.3, 0.7].map((a, i) =>
    Float64Array.from([0.5, 0.4, 0.9, 0.3, 0.7], (b, j) => (i === j ? 0.8 : 0.15) * a * b),
  ),
};

describe('chooseLineup, every set of a small case worked out by other ways', () => {
  const singles = [0, 1, 2, 3, 4].map((at) => [at]);
  const pairs = singles.flatMap(([a = 0]) =>
    [0, 1, 2, 3, 4].filter((b) => b > a).map((b) => [a, b]),
  );

  it('the first choice is the best of all', () => {
    const { chosen, outlook } = chooseLineup({ ...SMALL, n: 1 });
    const values = singles.map((set) => rightAfter(SMALL, set));
    expect(values[chosen[0] ?? -1]).toBe(Math.max(...values));
    expect(outlook.after).toBeCloseTo(Math.max(...values), 4);
    expect(outlook.afterAny).toBeCloseTo(values.reduce((sum, one) => sum + one, 0) / 5, 4);
    expect(outlook.afterLeastTasted).toBeCloseTo(values[2] ?? 0, 4);
  });

  it('two are as good as the best two, and promise what they are worth', () => {
    const { chosen, outlook } = chooseLineup(SMALL);
    const values = pairs.map((set) => rightAfter(SMALL, set));
    expect(outlook.after).toBeCloseTo(rightAfter(SMALL, chosen), 4);
    expect(outlook.after).toBeCloseTo(Math.max(...values), 4);
    expect(outlook.afterAny).toBeCloseTo(values.reduce((sum, one) => sum + one, 0) / 10, 4);
    expect(outlook.now).toBeLessThan(outlook.afterAny ?? 0);
  });
});

describe('chooseLineup', () => {
  const known = (mean: number, weight = 0.5) => ({ mean, sd: 0.3, weight });

  it('takes what was never tasted first, however far from the top, since it has no rank without', () => {
    const close = { mean: 7, sd: 0.8, weight: 0.9 };
    const far = { mean: 3, sd: 0.4, weight: 0.01 };
    const one = problem([close, close, { ...far, tastings: 1 }, { ...far, tastings: 0 }]);
    expect(chooseLineup({ ...one, n: 1 }).chosen).toEqual([3]);
    expect(chooseLineup(one).chosen[1]).toBeLessThan(2);
  });

  it('draws in what was never tasted', () => {
    const made = [known(8), known(7), known(6), { mean: 6.5, sd: 1.6, weight: 0.4, tastings: 0 }];
    expect(chooseLineup(problem(made)).chosen[0]).toBe(3);
  });

  it('minds the weights: of two open pairs the one that counts', () => {
    const made = [known(3, 0.01), known(3.05, 0.01), known(8, 0.9), known(8.05, 0.9)];
    expect(chooseLineup(problem(made)).chosen.toSorted()).toEqual([2, 3]);
    const turned = made.map((one) => ({ ...one, weight: 0.91 - one.weight }));
    expect(chooseLineup(problem(turned)).chosen.toSorted()).toEqual([0, 1]);
  });

  it('of two trees takes the less known one, and never both', () => {
    const one = problem([known(7), known(7.1), known(7.2)]);
    const tree = { cultivar: 0, rest: 0.1, tastings: 3 };
    const candidates = [
      { ...tree, slope: 0.4 },
      { ...tree, slope: 0.9 },
      ...one.candidates.slice(1),
    ];
    const { chosen } = chooseLineup({ ...one, candidates, n: 4 });
    expect(chosen).toHaveLength(3);
    expect(chosen).toContain(1);
    expect(chosen).not.toContain(0);
  });

  it('of choices that tell as much takes the less tasted', () => {
    const made = [known(7), known(7), known(7)].map((one, at) => ({ ...one, tastings: 5 - at }));
    expect(chooseLineup(problem(made, { n: 1 })).chosen).toEqual([2]);
  });

  it('tells the pair of which most is learnt', () => {
    const { chosen, pairs } = chooseLineup(problem([known(7), known(7.05), known(4)], { n: 1 }));
    expect(chosen[0]).not.toBe(2);
    expect(pairs[0]).toMatchObject({ better: 1, worse: 0 });
    expect(pairs[0]?.wrongAfter).toBeLessThan(pairs[0]?.wrong ?? 0);
  });

  it('for verdicts takes what may come clear of a mark, not what is close to another', () => {
    const made = [known(8), known(8.02), known(5.9), known(3)];
    const standings = made.map(({ mean, sd }) => ({
      mean,
      variance: sd * sd,
      low: mean - 1.96 * sd,
      high: mean + 1.96 * sd,
    }));
    const aim: LineupAim = { for: 'verdict', standings, marks: [5.5] };
    const { chosen, outlook } = chooseLineup(problem(made, { n: 1, aim }));
    expect(chosen).toEqual([2]);
    expect(outlook.all).toBe(4);
    expect(outlook.now).toBe(3);
    expect(outlook.after).toBeGreaterThan(3);
    expect(outlook.after).toBeLessThan(4);
  });

  it('chooses each once, as many as asked or as there are, and never expects to lose', () => {
    fc.assert(
      fc.property(
        fc.array(asMade, { minLength: 1, maxLength: 7 }),
        fc.integer({ min: 1, max: 6 }),
        (made, n) => {
          const { chosen, outlook } = chooseLineup(problem(made, { n }));
          expect(new Set(chosen).size).toBe(Math.min(n, made.length));
          expect(outlook.after).toBeGreaterThanOrEqual(outlook.now - 1e-9);
          expect(outlook.after).toBeLessThanOrEqual(outlook.all);
          expect(outlook.afterAny === undefined).toBe(n >= made.length);
        },
      ),
      { numRuns: 50 },
    );
  });

  it('does not hang on the order in which plates are named', () => {
    fc.assert(
      fc.property(fc.array(asMade, { minLength: 3, maxLength: 6 }), (made) => {
        const one = problem(made, { n: 2 });
        const turned = { ...one, candidates: one.candidates.toReversed() };
        expect(chooseLineup(turned).outlook.after).toBeCloseTo(chooseLineup(one).outlook.after, 9);
      }),
      { numRuns: 30 },
    );
  });

  it('has nothing to choose where nothing is ripe', () => {
    const { chosen, outlook } = chooseLineup(problem([known(5)], { candidates: [] }));
    expect(chosen).toEqual([]);
    expect(outlook.after).toBe(outlook.now);
  });
});
