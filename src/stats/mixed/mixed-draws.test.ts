import { describe, expect, it } from 'vitest';
import { drawMoments } from '../../../tests/support/draw-moments.ts';
import { seededRandom } from '../random/seeded-random.ts';
import { type MixedOptions, mixedDraws } from './mixed-draws.ts';
import type { MixedObservations } from './mixed-layout.ts';

const OPTIONS = { draws: 2000, seed: 7, scale: 1.5 };

type Design = { items: number; seasons: number; trees: number; plates: number; tasters: number };

/** Every item in every season on every tree, so many plates each, every plate before all tasters. */
function balanced(design: Design, spreads: { item: number; rest: number }, seed: number) {
  const random = seededRandom(seed);
  const seen = {
    y: [] as number[],
    item: [] as number[],
    season: [] as number[],
    tree: [] as number[],
    plate: [] as number[],
    block: [] as number[],
    factors: [[] as number[]],
  };
  const effects = new Map<string, number>();
  const effect = (key: string) => {
    const known = effects.get(key) ?? random.normal();
    effects.set(key, known);
    return known;
  };
  let plate = 0;
  for (let item = 0; item < design.items; item++) {
    for (let season = 0; season < design.seasons; season++) {
      for (let tree = 0; tree < design.trees; tree++) {
        for (let k = 0; k < design.plates; k++, plate++) {
          for (let taster = 0; taster < design.tasters; taster++) {
            const keys = [
              `s${item}/${season}`,
              `t${item}/${tree}`,
              `p${plate}`,
              `e${plate}/${taster}`,
            ];
            const rest = keys.reduce((sum, key) => sum + spreads.rest * effect(key), 0);
            seen.y.push(6 + spreads.item * effect(`i${item}`) + rest);
            seen.item.push(item);
            seen.season.push(season);
            seen.tree.push(item * design.trees + tree);
            seen.plate.push(plate);
            seen.block.push(0);
            seen.factors[0]?.push(taster);
          }
        }
      }
    }
  }
  return seen;
}

/** Moments of what is drawn of each item. */
function moments(seen: MixedObservations, options: MixedOptions) {
  return drawMoments(mixedDraws(seen, options).items);
}

function meanOf(values: Float64Array | readonly number[]): number {
  return [...values].reduce((sum, value) => sum + value, 0) / values.length;
}

function itemMeans(seen: MixedObservations, items: number): number[] {
  return Array.from({ length: items }, (_, item) =>
    meanOf(seen.y.filter((_value, at) => seen.item[at] === item)),
  );
}

const uneven: MixedObservations = (() => {
  const full = balanced(
    { items: 8, seasons: 3, trees: 2, plates: 1, tasters: 3 },
    { item: 1.2, rest: 0.5 },
    3,
  );
  const kept = full.y.map((_, at) => (at * 7) % 11 < 7);
  const pick = (values: readonly number[]) => values.filter((_, at) => kept[at]);
  return {
    y: pick(full.y).map(Math.round),
    item: pick(full.item),
    season: pick(full.season),
    tree: pick(full.tree),
    plate: pick(full.plate),
    block: pick(full.season),
    factors: [pick(full.factors[0] ?? [])],
  };
})();

describe('mixedDraws', () => {
  it('draws the same for the same seed, and differently for another', () => {
    const first = mixedDraws(uneven, OPTIONS);
    const second = mixedDraws(uneven, OPTIONS);
    const other = mixedDraws(uneven, { ...OPTIONS, seed: 8 });
    expect(second.items).toEqual(first.items);
    expect(second.spreads).toEqual(first.spreads);
    expect(other.items).not.toEqual(first.items);
  });

  it('does not depend on the order of entries or on how groups are numbered, but for simulation error', () => {
    const order = seededRandom(5).shuffle(uneven.y.map((_, at) => at));
    const pick = (values: readonly number[]) => order.map((at) => values[at] ?? 0);
    const shuffled = {
      y: pick(uneven.y),
      item: pick(uneven.item).map((item) => 7 - item),
      season: pick(uneven.season).map((season) => 2030 - season),
      tree: pick(uneven.tree).map((tree) => 100 - tree),
      plate: pick(uneven.plate).map((plate) => 1000 - plate),
      block: pick(uneven.block).map((block) => 2 - block),
      factors: uneven.factors.map((factor) => pick(factor).map((level) => 2 - level)),
    };
    const draws = { ...OPTIONS, draws: 8000 };
    const [straight, turned] = [moments(uneven, draws), moments(shuffled, draws)];
    straight.mean.forEach((mean, item) => {
      const sd = straight.sd[item] as number;
      expect(Math.abs(mean - (turned.mean[7 - item] as number))).toBeLessThan(0.15 * sd);
      expect(Math.abs(sd / (turned.sd[7 - item] as number) - 1)).toBeLessThan(0.1);
    });
  });

  it('moves and stretches with the values', () => {
    const plain = moments(uneven, OPTIONS);
    const moved = moments(
      { ...uneven, y: uneven.y.map((value) => 100 + 4 * value) },
      { ...OPTIONS, scale: 4 * OPTIONS.scale },
    );
    plain.mean.forEach((mean, item) => {
      expect(moved.mean[item]).toBeCloseTo(100 + 4 * mean, 6);
      expect(moved.sd[item]).toBeCloseTo(4 * (plain.sd[item] as number), 6);
    });
  });

  it('agrees with best linear unbiased prediction where a balanced trial settles the spreads', () => {
    const design = { items: 40, seasons: 6, trees: 3, plates: 2, tasters: 3 };
    const seen = balanced(design, { item: 1.2, rest: 0.6 }, 1);
    const drawn = moments(seen, { ...OPTIONS, draws: 4000 });
    // In a balanced layout prediction shrinks each mean towards the grand mean by the reliability of a mean, here
    // at the true spreads: Robinson 1991, Statistical Science 6:15-32.
    const cell = 0.36 * (1 / 6 + 1 / 3 + 1 / 36 + 1 / 108);
    const means = itemMeans(seen, design.items);
    const grand = meanOf(means);
    means.forEach((mean, item) => {
      const blup = grand + ((mean - grand) * 1.44) / (1.44 + cell);
      expect(Math.abs((drawn.mean[item] as number) - blup)).toBeLessThan(0.08);
    });
  });

  it('takes out sittings and harsh tasters', () => {
    const design = { items: 12, seasons: 4, trees: 2, plates: 1, tasters: 4 };
    const seen = balanced(design, { item: 1.2, rest: 0.4 }, 9);
    const mood = [0, -2, 1, 0.5];
    // One taster stays away from half of the items, so plain means would be unfair to the others.
    const kept = seen.y.map(
      (_, at) => seen.factors[0]?.[at] !== 3 || (seen.item[at] ?? 0) % 2 === 0,
    );
    const pick = (values: readonly number[]) => values.filter((_, at) => kept[at]);
    const moved = {
      y: pick(
        seen.y.map(
          (value, at) =>
            value - (seen.factors[0]?.[at] === 3 ? 3 : 0) + (mood[seen.season[at] ?? 0] ?? 0),
        ),
      ),
      item: pick(seen.item),
      season: pick(seen.season),
      tree: pick(seen.tree),
      plate: pick(seen.plate),
      block: pick(seen.season),
      factors: [pick(seen.factors[0] ?? [])],
    };
    const still = moments({ ...moved, y: pick(seen.y) }, OPTIONS);
    const swung = moments(moved, OPTIONS);
    const shift = meanOf(mood) - 3 / 4;
    still.mean.forEach((mean, item) => {
      expect(Math.abs((swung.mean[item] as number) - mean - shift)).toBeLessThan(0.15);
    });
  });

  it('leaves out an item that was never seen', () => {
    const gap = { ...uneven, item: uneven.item.map((item) => (item > 3 ? item + 1 : item)) };
    const { items } = mixedDraws(gap, OPTIONS);
    expect(items[4]).toBeUndefined();
    expect(items.filter((draws) => draws !== undefined)).toHaveLength(8);
  });

  it('is less sure of an item that was seen less', () => {
    const seldom = uneven.item.map((item, at) => item !== 2 || uneven.item.indexOf(2) === at);
    const pick = (values: readonly number[]) => values.filter((_, at) => seldom[at]);
    const less = moments(
      {
        y: pick(uneven.y),
        item: pick(uneven.item),
        season: pick(uneven.season),
        tree: pick(uneven.tree),
        plate: pick(uneven.plate),
        block: pick(uneven.block),
        factors: uneven.factors.map(pick),
      },
      OPTIONS,
    );
    const others = less.sd.filter((_, item) => item !== 2);
    expect(less.sd[2]).toBeGreaterThan(Math.max(...others));
  });

  describe('hands out finite draws from', () => {
    const flat = (
      count: number,
      y: readonly number[],
      item: readonly number[],
    ): MixedObservations => {
      const zero = Array<number>(count).fill(0);
      const each = zero.map((_, at) => at);
      return { y, item, season: zero, tree: item, plate: each, block: zero, factors: [zero] };
    };
    const cases: [string, MixedObservations, number][] = [
      ['a single score', flat(1, [7], [0]), 0],
      ['one item', flat(5, [7, 6, 8, 7, 5], [0, 0, 0, 0, 0]), 0],
      ['one score an item, no freedom left', flat(4, [7, 6, 8, 4], [0, 1, 2, 3]), 0],
      ['two equal scores', flat(2, [7, 7], [0, 1]), 0],
      ['all scores equal', { ...uneven, y: uneven.y.map(() => 7) }, 0],
      ['all scores equal, rounded to whole numbers', { ...uneven, y: uneven.y.map(() => 7) }, 1],
      [
        'every score in its own sitting',
        { ...uneven, plate: uneven.y.map((_, at) => at), block: uneven.y.map((_, at) => at) },
        1,
      ],
      ['values far beyond the scale', { ...uneven, y: uneven.y.map((value) => 1e6 * value) }, 0],
    ];
    it.each(cases)('%s', (_name, seen, resolution) => {
      const drawn = mixedDraws(seen, { ...OPTIONS, draws: 400, resolution });
      for (const draws of drawn.items) expect(draws?.every(Number.isFinite)).toBe(true);
      for (const spread of Object.values(drawn.spreads)) {
        expect(spread.every((value) => Number.isFinite(value) && value >= 0)).toBe(true);
      }
    });
  });

  it('is not sure of one score, nor of equal rounded ones', () => {
    const one = { y: [7], item: [0], season: [0], tree: [0], plate: [0], block: [0], factors: [] };
    expect(moments(one, OPTIONS).sd[0]).toBeGreaterThan(0.5);
    const equal = { ...uneven, y: uneven.y.map(() => 7) };
    expect(moments(equal, { ...OPTIONS, resolution: 1 }).sd[0]).toBeGreaterThan(0.03);
  });

  it('has nothing to say about nothing', () => {
    const none = { y: [], item: [], season: [], tree: [], plate: [], block: [], factors: [] };
    expect(mixedDraws(none, OPTIONS).items).toEqual([]);
  });

  it('refuses values that are not finite and groups that are missing', () => {
    expect(() => mixedDraws({ ...uneven, y: uneven.y.map(() => Number.NaN) }, OPTIONS)).toThrow(
      RangeError,
    );
    expect(() => mixedDraws({ ...uneven, tree: [1] }, OPTIONS)).toThrow(RangeError);
    expect(() => mixedDraws(uneven, { ...OPTIONS, scale: 0 })).toThrow(RangeError);
  });
});
