import { describe, expect, it } from 'vitest';
import { seededRandom } from '../random/seeded-random.ts';
import { type NestedLayout, nestedSpread } from './nested-spread.ts';

const NO_BLOCKS = (rows: number) => ({ levels: new Array<number>(rows).fill(0), count: 1 });

// Calcium in % of the dry weight of turnip greens: four plants, three leaves of each, two determinations of each.
// Snedecor and Cochran 1967, Statistical Methods, 6th edition, section 10.16; copied from memory, and its mean squares
// come out: plants 2.5201, leaves 0.3288 on 8, determinations 0.00665 on 12.
const GREENS = [
  [3.28, 3.09, 3.52, 3.48, 2.88, 2.8],
  [2.46, 2.44, 1.87, 1.92, 2.19, 2.19],
  [2.77, 2.66, 3.74, 3.44, 2.55, 2.55],
  [3.78, 3.87, 4.07, 4.12, 3.31, 3.31],
];

function greens(): NestedLayout {
  const y = GREENS.flat();
  return {
    y,
    block: NO_BLOCKS(y.length),
    treatment: { levels: y.map((_, at) => Math.floor(at / 6)), count: 4 },
    outer: undefined,
    inner: { levels: y.map((_, at) => Math.floor(at / 2)), count: 12 },
    expected: 0.7,
  };
}

/** Treatments that do not differ, on one to three outer groups each, in rows of blocks that cut through all of them. */
function made(seed: number, [row, inner, outer]: readonly [number, number, number]): NestedLayout {
  const random = seededRandom(seed);
  const [y, block, treatment, ofOuter, ofInner]: number[][] = [[], [], [], [], []];
  const level = Array.from({ length: 12 }, () => 3 * random.normal());
  let [trees, stands] = [0, 0];
  for (let subject = 0; subject < 10; subject++) {
    for (let tree = 0; tree <= subject % 3; tree++, trees++) {
      const own = outer * random.normal();
      for (let season = 0; season < 3; season++, stands++) {
        const swing = inner * random.normal();
        for (let plate = 0; plate < 1 + ((subject + season) % 3); plate++) {
          const at = 4 * season + random.integer(4);
          y?.push((level[at] ?? 0) + own + swing + row * random.normal());
          block?.push(at);
          treatment?.push(subject);
          ofOuter?.push(trees);
          ofInner?.push(stands);
        }
      }
    }
  }
  return {
    y: y ?? [],
    block: { levels: block ?? [], count: 12 },
    treatment: { levels: treatment ?? [], count: 10 },
    outer: { levels: ofOuter ?? [], count: trees },
    inner: { levels: ofInner ?? [], count: stands },
    expected: 0.7,
  };
}

describe('nestedSpread', () => {
  it('finds the published variances of a nested sample', () => {
    const found = nestedSpread(greens());
    expect(found?.row).toBeCloseTo(0.00665, 5);
    expect(found?.inner).toBeCloseTo(0.161, 3);
    expect(found?.error).toBeCloseTo(0.3288, 4);
    expect(found?.df).toBeCloseTo(8, 10);
    // A mean of 6 rows in 3 groups of 2 has the variance of its groups over 3.
    for (const each of found?.asRows ?? []) {
      expect(each / 6).toBeCloseTo(0.3288 / 6, 3);
    }
  });

  it('is right on average in an unbalanced layout with blocks, but for what trees are drawn to', () => {
    const all = Array.from({ length: 200 }, (_, seed) => nestedSpread(made(seed, [1, 1, 2])));
    const mean = (of: (one: NonNullable<(typeof all)[0]>) => number) =>
      all.reduce((sum, one) => sum + (one === undefined ? 0 : of(one)), 0) / all.length;
    expect(mean(({ row }) => row)).toBeGreaterThan(0.93);
    expect(mean(({ row }) => row)).toBeLessThan(1.07);
    expect(mean(({ inner }) => inner)).toBeGreaterThan(0.85);
    expect(mean(({ inner }) => inner)).toBeLessThan(1.15);
    // Nine second and third trees: 9 / 14 of what they say (4), the rest 0.7 of the seasons' 1.
    const drawn = (9 * 4 + 5 * 0.7) / 14;
    expect(mean(({ outer }) => outer)).toBeGreaterThan(0.8 * drawn);
    expect(mean(({ outer }) => outer)).toBeLessThan(1.2 * drawn);
  });

  it('pools what scatters alike, and then leaves a plain analysis as it is', () => {
    // Rows of a group pull away from one another: nothing between groups.
    const y = [1, 3, 1, 3, 1, 3, 1, 3];
    const found = nestedSpread({
      y,
      block: NO_BLOCKS(8),
      treatment: { levels: [0, 0, 0, 0, 1, 1, 1, 1], count: 2 },
      outer: undefined,
      inner: { levels: [0, 0, 1, 1, 2, 2, 3, 3], count: 4 },
      expected: 0.7,
    });
    expect(found).toMatchObject({ inner: 0, outer: 0, df: 6 });
    // 8 squares of 1 on 8 - 2 degrees of freedom.
    for (const each of [found?.error, ...(found?.asRows ?? [])])
      expect(each).toBeCloseTo(8 / 6, 12);
  });

  it('takes rows that agree in every group for no more than the groups tell', () => {
    const layout = greens();
    // Each determination stands twice: 12 leaves are all that there is.
    const y = layout.y.map((_, at) => layout.y[at - (at % 2)] ?? 0);
    const found = nestedSpread({ ...layout, y });
    expect(found?.row).toBe(0);
    // Variance of a mean of 3 leaves, by hand: that between leaves of a plant over 3.
    const plants = [0, 6, 12, 18].map((first) => [0, 2, 4].map((leaf) => y[first + leaf] ?? 0));
    const squares = plants.flatMap((leaves) => {
      const mean = leaves.reduce((sum, one) => sum + one, 0) / 3;
      return leaves.map((one) => (one - mean) ** 2);
    });
    const between = squares.reduce((sum, one) => sum + one, 0) / 8;
    expect(found?.asRows).toHaveLength(4);
    for (const each of found?.asRows ?? []) expect(each / 6).toBeCloseTo(between / 3, 12);
    expect(found?.df).toBeCloseTo(8, 10);
  });

  it('says nothing where nothing is left', () => {
    const pair = { levels: [0, 1], count: 2 };
    const alone = { y: [1, 2], block: NO_BLOCKS(2), treatment: pair, inner: pair };
    expect(nestedSpread({ ...alone, outer: undefined, expected: 0.7 })).toBeUndefined();
  });
});
