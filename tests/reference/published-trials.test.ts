// Two small published fruit trials, worked through from the plots to the letters.
import { describe, expect, it } from 'vitest';
import { studentizedRangeQuantile } from '../../src/stats/distributions/studentized-range.ts';
import { additiveModel } from '../../src/stats/linear/additive-model.ts';
import { compactLetters } from '../../src/stats/linear/compact-letters.ts';
import { leastSignificantDifference } from '../../src/stats/linear/least-significant-difference.ts';
import { sequentialAnova } from '../../src/stats/linear/sequential-anova.ts';
import { tukeyKramer } from '../../src/stats/linear/tukey-kramer.ts';
import { reml } from '../support/reml/reml.ts';

// Strawberry, 8 varieties in 4 blocks, lb a plot: Besag & Higdon 1999, J. R. Statist. Soc. B
// 61:691-746, table 4 (via Mead). Sums of squares, F, standard errors, letters and
// the mixed model are published; the analysis without blocks and the critical differences follow.
describe('strawberry varieties in blocks', () => {
  const varieties = ['E', 'F', 'G', 'M', 'P', 'R1', 'Re', 'V'];
  const plots = [
    [6.9, 6.5, 5.8, 7.9, 7.6, 4.9, 5.6, 6.3],
    [6.5, 4.0, 7.0, 5.2, 3.8, 2.7, 4.5, 5.5],
    [7.5, 6.4, 6.9, 6.1, 7.2, 5.0, 7.0, 7.6],
    [5.3, 5.6, 6.5, 3.0, 7.4, 1.4, 5.2, 5.8],
  ];
  const y = plots.flat();
  const variety = { levels: y.map((_, row) => row % 8), count: 8 };
  const block = { levels: y.map((_, row) => Math.floor(row / 8)), count: 4 };
  const model = additiveModel({ y, treatment: variety.levels, treatments: 8, factors: [block] });
  const group = model?.groups[0];
  const pairs = tukeyKramer({
    means: group?.means ?? [],
    covariance: group?.covariance ?? [],
    df: model?.df ?? 0,
    alpha: 0.05,
  });

  it('analysis of variance', () => {
    const anova = sequentialAnova(y, [block, variety]);
    const [blocks, varietyLine] = anova?.terms ?? [];
    expect(blocks?.ss).toBeCloseTo(21.166, 3);
    expect(blocks?.f).toBeCloseTo(6.2414, 4);
    expect(blocks?.p).toBeCloseTo(0.003372, 6);
    expect(varietyLine?.ss).toBeCloseTo(29.164, 3);
    expect(varietyLine?.ms).toBeCloseTo(4.1662, 4);
    expect(varietyLine?.f).toBeCloseTo(3.6856, 4);
    expect(varietyLine?.p).toBeCloseTo(0.009412, 6);
    expect(anova?.residual.ss).toBeCloseTo(23.739, 3);
    expect(anova?.residual.ms).toBeCloseTo(1.1304, 4);
    expect([blocks?.df, varietyLine?.df, anova?.residual.df]).toEqual([3, 7, 21]);
  });

  it('leaving the blocks out hides the varieties', () => {
    const anova = sequentialAnova(y, [variety]);
    expect(anova?.residual.ms).toBeCloseTo(1.871, 4);
    expect(anova?.terms[0]?.f).toBeCloseTo(2.2267, 4);
    expect(anova?.terms[0]?.p).toBeCloseTo(0.06797, 5);
  });

  it('means and their standard errors', () => {
    const published = [6.55, 5.625, 6.55, 5.55, 6.5, 3.5, 5.575, 6.3];
    for (const [each, mean] of published.entries()) {
      expect(model?.means[each]).toBeCloseTo(mean, 10);
      expect(model?.standardErrors[each]).toBeCloseTo(0.532, 3);
    }
    for (const { se } of pairs) expect(se).toBeCloseTo(0.752, 3);
  });

  it('least significant difference parts R1 from all others and nothing else', () => {
    const lsd = leastSignificantDifference(pairs[0]?.se ?? 0, 21, 0.05);
    expect(lsd).toBeCloseTo(1.5635, 4);
    for (const { first, second, difference } of pairs) {
      const hasR1 = varieties[first] === 'R1' || varieties[second] === 'R1';
      expect(Math.abs(difference) > lsd).toBe(hasR1);
    }
  });

  it('honestly significant difference and letters', () => {
    expect(studentizedRangeQuantile(0.95, 8, 21)).toBeCloseTo(4.7435, 4);
    for (const { halfWidth } of pairs) expect(halfWidth).toBeCloseTo(2.5217, 4);
    // the published letters begin with the lowest mean
    const order = [5, 3, 6, 1, 7, 4, 0, 2];
    const differs = (i: number, j: number): boolean =>
      pairs.some(
        (pair) => pair.first === Math.min(i, j) && pair.second === Math.max(i, j) && pair.differs,
      );
    expect(compactLetters(differs, order)).toEqual(['a', 'ab', 'ab', 'ab', 'b', 'b', 'b', 'b']);
  });

  it('mixed model with random blocks', () => {
    const fixed = y.map((_, row) => varieties.map((_, each) => (row % 8 === each ? 1 : 0)));
    const fit = reml({ y, fixed, random: [block] });
    expect(Math.sqrt(fit?.variances[0] ?? Number.NaN)).toBeCloseTo(0.8606, 4);
    expect(Math.sqrt(fit?.residual ?? Number.NaN)).toBeCloseTo(1.0632, 4);
  });
});

// Apple, 6-foot rows of a trial with missing trees, kg a tree in total 1975-79: Archbold, Brown &
// Cornelius 1987, J. Am. Soc. Hort. Sci. 112:219-222. Figures computed from the published rows.
describe('apple rootstocks and cultivars with missing trees', () => {
  const cells: readonly (readonly [
    name: string,
    kg: readonly number[],
    mean: number,
    sd: number,
  ])[] = [
    ['M7 Golden', [125, 132.7, 147.3, 177.7, 109.1], 138.36, 25.95],
    ['M7 Redspur', [151.8, 111.8, 100.9, 150.9, 66.4], 116.36, 36.07],
    ['MM106 Golden', [98.2, 185.5, 117.7], 133.8, 45.82],
    ['MM106 Redspur', [98.2, 155.5, 169.5, 182.7], 151.475, 37.21],
    ['MM111 Golden', [90.5, 90.9, 77.7, 79.5, 71.4], 82, 8.49],
    ['MM111 Redspur', [114.5, 116.4, 159.5, 129.5], 129.975, 20.78],
    ['Seedling Golden', [130.9, 90.9, 168.6, 158.6], 137.25, 34.77],
    ['Seedling Redspur', [70.9, 73.2, 88.6, 103.2, 124.1], 92, 22.17],
  ];
  const y = cells.flatMap(([, kg]) => kg);
  const treatment = cells.flatMap(([, kg], each) => kg.map(() => each));
  const model = additiveModel({ y, treatment, treatments: 8, factors: [] });
  const group = model?.groups[0];

  it('means of the cells', () => {
    for (const [each, [, kg, mean, sd]] of cells.entries()) {
      expect(model?.means[each]).toBeCloseTo(mean, 2);
      const n = kg.length;
      const own = Math.sqrt(kg.reduce((ss, value) => ss + (value - mean) ** 2, 0) / (n - 1));
      expect(own).toBeCloseTo(sd, 2);
    }
  });

  it('analysis of variance over the eight cells', () => {
    const anova = sequentialAnova(y, [{ levels: treatment, count: 8 }]);
    const [between] = anova?.terms ?? [];
    expect(between?.f).toBeCloseTo(3.128, 3);
    expect([between?.df, anova?.residual.df]).toEqual([7, 27]);
    expect(between?.p).toBeCloseTo(0.01494, 5);
    expect(anova?.residual.ms).toBeCloseTo(867.79, 2);
    expect(model?.residualVariance).toBeCloseTo(867.79, 2);
  });

  it('Tukey-Kramer parts one pair alone', () => {
    expect(studentizedRangeQuantile(0.95, 8, 27)).toBeCloseTo(4.6378, 4);
    const pairs = tukeyKramer({
      means: group?.means ?? [],
      covariance: group?.covariance ?? [],
      df: 27,
      alpha: 0.05,
    });
    expect(pairs).toHaveLength(28);
    const apart = pairs.filter(({ differs }) => differs);
    expect(apart.map(({ first, second }) => [cells[first]?.[0], cells[second]?.[0]])).toEqual([
      ['MM106 Redspur', 'MM111 Golden'],
    ]);
    expect(apart[0]?.difference).toBeCloseTo(69.475, 3);
    expect(apart[0]?.halfWidth).toBeCloseTo(64.81, 2);
  });

  it('plain means and means of cell means differ where trees are missing', () => {
    const cultivar = cells.flatMap(([name, kg]) => kg.map(() => (name.endsWith('Golden') ? 0 : 1)));
    const stock = cells.flatMap(([, kg], each) => kg.map(() => Math.floor(each / 2)));
    const factors = [{ levels: stock, count: 4 }];
    const byCultivar = additiveModel({ y, treatment: cultivar, treatments: 2, factors });
    expect(byCultivar?.counts).toEqual([17, 18]);
    expect(byCultivar?.rawMeans[0]).toBeCloseTo(120.72, 2);
    expect(byCultivar?.rawMeans[1]).toBeCloseTo(120.42, 2);
    const cellMean = (parity: number): number =>
      cells.reduce((total, [, , mean], each) => total + (each % 2 === parity ? mean / 4 : 0), 0);
    expect(cellMean(0)).toBeCloseTo(122.85, 2);
    expect(cellMean(1)).toBeCloseTo(122.45, 2);
  });
});
