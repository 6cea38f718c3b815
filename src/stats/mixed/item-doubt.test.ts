import { describe, expect, it } from 'vitest';
import { itemDoubt, plateNews, type SpreadVariances } from './item-doubt.ts';

const SPREADS: SpreadVariances = {
  item: 1,
  season: 0.2,
  tree: 0.1,
  plate: 0.3,
  residual: 0.8,
  block: 0.4,
};

describe('itemDoubt', () => {
  it('is the spread between items while nothing was observed', () => {
    expect(itemDoubt([], SPREADS)).toBeCloseTo(1, 12);
  });

  it('of one plate is that of one mean with all its noise', () => {
    const noise = 0.2 + 0.1 + 0.3 + 0.8 / 4 + 0.4 / 4;
    const one = [{ season: 2025, tree: 3, observations: 4 }];
    expect(itemDoubt(one, SPREADS)).toBeCloseTo(1 / (1 + 1 / noise), 12);
  });

  it('of crossed and balanced plates is that of their mean (Searle, Casella and McCulloch 1992, chapter 4)', () => {
    const seasons = [1, 2, 3];
    const trees = [1, 2];
    const plates = seasons.flatMap((season) =>
      trees.map((tree) => ({ season, tree, observations: 2 })),
    );
    const noise = 0.2 / 3 + 0.1 / 2 + (0.3 + 0.8 / 2 + 0.4 / 4) / 6;
    expect(itemDoubt(plates, SPREADS)).toBeCloseTo(1 / (1 + 1 / noise), 12);
  });

  it('bears a spread of nothing', () => {
    const plate = [{ season: 1, tree: 1, observations: 1 }];
    const bare = { item: 1, season: 0, tree: 0, plate: 0.5, residual: 0, block: 0 };
    expect(itemDoubt(plate, bare)).toBeCloseTo(1 / (1 + 1 / 0.5), 9);
  });
});

describe('plateNews', () => {
  it('is all news where nothing was observed, or in a new season from a new tree', () => {
    const fresh = plateNews([], { season: 1, tree: 1 }, SPREADS);
    expect(fresh.slope).toBeCloseTo(1, 12);
    expect(fresh.rest).toBeCloseTo(0.3, 12);
    const before = [{ season: 1, tree: 1, observations: 3 }];
    const other = plateNews(before, { season: 2, tree: 2 }, SPREADS);
    expect(other.slope).toBeCloseTo(1, 12);
    expect(other.rest).toBeCloseTo(0.3, 12);
  });

  it('says the less, the more often that season and tree were seen', () => {
    const seen = (times: number) =>
      plateNews(
        Array.from({ length: times }, () => ({ season: 1, tree: 1, observations: 3 })),
        { season: 1, tree: 1 },
        SPREADS,
      ).slope;
    expect(seen(1)).toBeLessThan(1);
    expect(seen(8)).toBeLessThan(seen(1));
  });

  it('is the regression of the plate on the item given one plate before', () => {
    // By hand: cov of (item u, level of the plate u + w), w = season + tree, given y = u + w + noise.
    const [u, w, noise] = [1, 0.3, 0.3 + 0.8 / 2 + 0.1];
    const all = u + w + noise;
    const doubt = u - (u * u) / all;
    const shared = u - (u * (u + w)) / all;
    const level = u + w - (u + w) ** 2 / all;
    const { slope, rest } = plateNews(
      [{ season: 1, tree: 1, observations: 2 }],
      { season: 1, tree: 1 },
      SPREADS,
    );
    expect(slope).toBeCloseTo(shared / doubt, 10);
    expect(rest).toBeCloseTo(level - shared ** 2 / doubt, 10);
  });

  it('adds up: what is left after a plate is what was there less what the plate said', () => {
    const before = [
      { season: 1, tree: 1, observations: 2 },
      { season: 2, tree: 1, observations: 2 },
    ];
    const plate = { season: 2, tree: 1, observations: 4 };
    const { slope, rest } = plateNews(before, plate, SPREADS);
    const doubt = itemDoubt(before, SPREADS);
    const noise = rest + 0.3 + 0.8 / 4 + 0.4 / 4;
    const left = doubt - (slope * doubt) ** 2 / (slope ** 2 * doubt + noise);
    expect(itemDoubt([...before, plate], SPREADS)).toBeCloseTo(left, 10);
  });
});
