import { describe, expect, it } from 'vitest';
import { seededRandom } from '../random/seeded-random.ts';
import {
  logScale,
  rateFigure,
  rootScale,
  shareFigure,
  shareScale,
  sizeFigure,
} from './measured-scale.ts';
import { type MeasuredFigure, partDraws } from './part-draws.ts';

const OPTIONS = { draws: 1000, seed: 3 };
const mean = (draws: Float64Array = new Float64Array(1)) =>
  draws.reduce((sum, value) => sum + value, 0) / draws.length;
const spread = (draws: Float64Array | undefined) => {
  const centre = mean(draws);
  return Math.sqrt(mean(draws?.map((value) => (value - centre) ** 2)));
};

/** Twelve items, two trees of each but one of item 0, three seasons; sizes 40 g apart from effects of 8 %. */
function sizes(): (MeasuredFigure & { size: number })[] {
  const random = seededRandom(2);
  const figures: (MeasuredFigure & { size: number })[] = [];
  for (let item = 0; item < 12; item++) {
    for (let tree = 0; tree < (item === 0 ? 1 : 2); tree++) {
      const kind = 0.08 * random.normal();
      for (let season = 0; season < 3; season++) {
        const size = (30 + 4 * item) * Math.exp(kind + 0.08 * random.normal() + 0.1 * season);
        figures.push({ item, season, tree: 2 * item + tree, size, ...sizeFigure(size, 1) });
      }
    }
  }
  return figures;
}

describe('partDraws', () => {
  it('lies close to the plain means, drawn a little towards the rest', () => {
    const figures = sizes();
    const { items } = partDraws(figures, logScale, OPTIONS);
    for (let item = 0; item < 12; item++) {
      const own = figures.filter((figure) => figure.item === item).map((figure) => figure.size);
      const plain = own.reduce((sum, value) => sum + value, 0) / own.length;
      expect(Math.abs(mean(items[item]) / plain - 1)).toBeLessThan(0.13);
    }
  });

  it('lends an item with one tree the spread between trees of the others', () => {
    const { items } = partDraws(sizes(), logScale, OPTIONS);
    const relative = (item: number) => spread(items[item]) / mean(items[item]);
    expect(relative(0)).toBeGreaterThan(1.1 * relative(1));
    expect(relative(0)).toBeLessThan(0.3);
  });

  it('tells the mean at the average season, whichever seasons an item was seen in', () => {
    const figures = sizes().filter((figure) => figure.item !== 5 || figure.season === 2);
    const all = partDraws(sizes(), logScale, OPTIONS);
    const late = partDraws(figures, logScale, OPTIONS);
    // The last season was 11 % above the average one: not the cultivar's doing.
    const own = figures.filter((figure) => figure.item === 5).map((figure) => figure.size);
    const plain = own.reduce((sum, value) => sum + value, 0) / own.length;
    expect(mean(late.items[5])).toBeLessThan(0.97 * plain);
    expect(Math.abs(mean(late.items[5]) / mean(all.items[5]) - 1)).toBeLessThan(0.12);
  });

  it('takes a barren tree and a full basket', () => {
    const places = [0, 1, 2, 3, 4, 5].map((tree) => ({ item: tree % 3, season: 0, tree }));
    const rates = places.map((place) => ({ ...place, ...rateFigure(3 * place.tree, 6) }));
    for (const draws of partDraws(rates, rootScale, OPTIONS).items) {
      expect(draws?.every((value) => Number.isFinite(value) && value >= 0)).toBe(true);
    }
    const shares = places.map((place) => ({ ...place, ...shareFigure(place.tree > 2 ? 9 : 8, 9) }));
    for (const draws of partDraws(shares, shareScale, OPTIONS).items) {
      expect(draws?.every((value) => value > 0.3 && value <= 1)).toBe(true);
    }
  });

  it('weighs a figure by what it rests on', () => {
    // Of two trees, one with 200 fruit and one with 2, the first has the say.
    const figures = [0, 1, 2, 3, 4, 5, 6, 7].flatMap((item) => [
      { item, season: 0, tree: 2 * item, ...shareFigure(160, 200) },
      { item, season: 0, tree: 2 * item + 1, ...shareFigure(item === 0 ? 0 : 2, 2) },
    ]);
    expect(mean(partDraws(figures, shareScale, OPTIONS).items[0])).toBeGreaterThan(0.65);
  });
});
