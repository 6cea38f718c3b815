import { describe, expect, it } from 'vitest';
import { madeTrial } from '../../../tests/support/made-trial.ts';
import { meanOfDraws } from '../../stats/mixed/mean-of-draws.ts';
import { drawIndex, type ItemDraws } from './draw-index.ts';
import { traitMeans } from './draw-traits.ts';
import { gatherTrial } from './gather-trial.ts';
import type { JudgedTrial } from './judged-trial.ts';

const ledger = madeTrial(
  ['a', 'b', 'c', 'd', 'e', 'f'].map((key, at) => ({
    key,
    trees: 2,
    fruit: 10 + 6 * at,
    weight: 40 + 3 * at,
    site: at % 2 === 0 ? ('glass' as const) : ('yard' as const),
    scores: [0, 1, 2].map((season) =>
      [0, 1, 2, 3].map((taster) => 4 + at - ((season + taster) % 2)),
    ),
  })),
);
const trial: JudgedTrial = gatherTrial(ledger, {}, 'main');
const width = (draws: Float64Array) => {
  const sorted = draws.toSorted();
  const at = (p: number) => sorted[Math.floor(p * (sorted.length - 1))] as number;
  return at(0.95) - at(0.05);
};
const means = (draws: ItemDraws | undefined) => (draws ?? []).map((own) => own && meanOfDraws(own));

describe('drawIndex', () => {
  const drawn = drawIndex(trial, { seed: 1, views: [[0, 1], [0], [1]] });
  const [all, first, second] = drawn?.views ?? [];

  it('weighs the parts of one draw', () => {
    const total = all?.parts.reduce((sum, { weight }) => sum + weight, 0) ?? 0;
    for (const item of [0, 3, 5]) {
      for (const d of [0, 7, 99]) {
        const weighted = all?.parts.reduce(
          (sum, { weight, items }) => sum + (weight / total) * (items[item]?.[d] ?? Number.NaN),
          0,
        );
        expect(all?.index[item]?.[d]).toBeCloseTo(weighted ?? Number.NaN, 12);
      }
    }
  });

  it('is less sure of one new tree in a new season than of the cultivar', () => {
    all?.index.forEach((own, item) => {
      const fresh = all.newIndex[item] as Float64Array;
      expect(width(fresh)).toBeGreaterThan(1.1 * width(own as Float64Array));
      expect(Math.abs(meanOfDraws(fresh) - meanOfDraws(own as Float64Array))).toBeLessThan(0.3);
    });
  });

  it('tells every cultivar at every site, less surely where it never stood', () => {
    const glass = trial.tasted.find(({ item }) => item === 0)?.site ?? 0;
    const [at, elsewhere] = glass === 0 ? [first, second] : [second, first];
    expect(means(at?.index).every((mean) => mean !== undefined && Number.isFinite(mean))).toBe(
      true,
    );
    const taste = (view: typeof first) =>
      view?.parts.find(({ part }) => part === 'taste')?.items[0] as Float64Array;
    expect(width(taste(elsewhere))).toBeGreaterThan(width(taste(at)));
  });

  it('keeps fruit per branch and shares where they can be', () => {
    const barren: JudgedTrial = {
      ...trial,
      harvested: trial.harvested.map((row, at) => ({
        ...row,
        borne: { sum: at % 3 === 0 ? 0 : 40, of: 10 },
        sound: { sum: at % 2 === 0 ? 9 : 0, of: 9 },
      })),
    };
    for (const { part, figures } of drawIndex(barren, { seed: 1 })?.views[0]?.parts ?? []) {
      for (const draws of figures) {
        expect(draws?.every(Number.isFinite)).toBe(true);
        if (part === 'productivity') expect(draws?.every((rate) => rate >= 0)).toBe(true);
        if (part === 'soundness')
          expect(draws?.every((share) => share >= 0 && share <= 1)).toBe(true);
      }
    }
  });

  it('has nothing to say where nothing weighed was seen', () => {
    expect(drawIndex({ ...trial, tasted: [], harvested: [] }, { seed: 1 })).toBeUndefined();
  });
});

describe('traits', () => {
  const traits = [
    { key: 'flavour', weight: 3 },
    { key: 'sweetness', weight: 2 },
    { key: 'texture', weight: 1 },
  ];
  const tasted = trial.tasted.map((row) => ({
    ...row,
    scores: [
      row.scores[0],
      (row.scores[0] ?? 0) + (row.item === 2 ? 2 : 0),
      row.taster === 3 ? undefined : (row.scores[0] ?? 0) - 1,
    ],
  }));
  const several: JudgedTrial = { ...trial, traits, tasted };
  const taste = means(drawIndex(several, { seed: 1 })?.views[0]?.parts[0]?.items);
  const [flavour, sweetness, texture] = traitMeans(several, taste, 2);

  it('average to taste by their weights', () => {
    taste.forEach((mean, item) => {
      const weighted =
        (3 * (flavour?.[item] ?? 0) + 2 * (sweetness?.[item] ?? 0) + (texture?.[item] ?? 0)) / 6;
      expect(weighted).toBeCloseTo(mean ?? Number.NaN, 10);
    });
  });

  it('differ as they were scored', () => {
    const apart = (item: number) => (sweetness?.[item] ?? 0) - (flavour?.[item] ?? 0);
    expect(apart(2)).toBeGreaterThan(1);
    expect(Math.abs(apart(4))).toBeLessThan(0.7);
    expect((flavour?.[0] ?? 0) - (texture?.[0] ?? 0)).toBeGreaterThan(0.5);
  });
});
