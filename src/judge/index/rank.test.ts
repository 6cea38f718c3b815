import { expect, test } from 'vitest';
import { madeTrial } from '../../../tests/support/made-trial.ts';
import { type CropRanking, rankCrops } from './rank.ts';

const OPTIONS = { confidence: 0.9, top: 3, seed: 1 };

function ranked(cultivars: Parameters<typeof madeTrial>[0], seed = 1): CropRanking {
  const [main] = rankCrops(madeTrial(cultivars), {}, { ...OPTIONS, seed });
  return main ?? expect.fail('no ranking');
}

const STEADY = [
  {
    key: 'best',
    scores: [
      [9, 8, 9, 8],
      [9, 9, 8, 8],
      [8, 9, 9, 9],
    ],
    trees: 2,
  },
  {
    key: 'good',
    scores: [
      [7, 7, 8, 7],
      [7, 8, 7, 7],
      [8, 7, 7, 7],
    ],
    trees: 2,
  },
  {
    key: 'fair',
    scores: [
      [6, 5, 6, 5],
      [5, 6, 6, 5],
      [6, 5, 5, 6],
    ],
    trees: 2,
  },
  {
    key: 'poor',
    scores: [
      [3, 4, 3, 3],
      [4, 3, 3, 4],
      [3, 3, 4, 3],
    ],
    trees: 2,
  },
];

test('clear differences over years and tasters are ranked as they are', () => {
  const { ranked: rows } = ranked(STEADY);
  expect(rows.map(({ cultivar }) => cultivar.key)).toEqual(['best', 'good', 'fair', 'poor']);
  expect(rows.map(({ rank }) => rank)).toEqual([1, 2, 3, 4]);
  for (const one of rows) {
    expect(one.low).toBeLessThan(one.index);
    expect(one.high).toBeGreaterThan(one.index);
    expect(one.rankLow).toBeLessThanOrEqual(one.rank);
    expect(one.rankHigh).toBeGreaterThanOrEqual(one.rank);
  }
  const [best, , , poor] = rows;
  expect([...(best?.letters ?? '')].some((letter) => poor?.letters.includes(letter))).toBe(false);
  expect(best?.firstShare).toBeGreaterThan(0.8);
});

test('the same seed gives the same figures, another seed nearly the same', () => {
  const figures = (seed: number) => ranked(STEADY, seed).ranked.map(({ index }) => index);
  expect(figures(1)).toEqual(figures(1));
  for (const [at, index] of figures(2).entries()) {
    // The error of a mean of 2000 draws, with a spread of about one point, is far below this.
    expect(Math.abs(index - (figures(1)[at] ?? Number.NaN))).toBeLessThan(0.15);
  }
});

test('one lucky plate does not put a cultivar on top', () => {
  // Cultivars that swing by a point or two from year to year, as figs do.
  const swinging = [
    [9, 7, 8],
    [6, 8, 7],
    [7, 5, 7],
    [5, 7, 6],
    [6, 4, 6],
    [5, 6, 3],
    [4, 3, 5],
    [8, 6, 9],
  ].map((years, at) => ({
    key: `c${at}`,
    trees: 2,
    scores: years.map((score) => [score, score - 1, score, score + 1]),
  }));
  const { ranked: rows } = ranked([...swinging, { key: 'lucky', scores: [[9, 8, 8, 9]] }]);
  const of = (key: string) => rows.find(({ cultivar }) => cultivar.key === key);
  // By plain means lucky has 8.5 and leads, before c0 with 8.0.
  expect(of('lucky')?.rank).toBeGreaterThan(of('c0')?.rank ?? 99);
  const width = (key: string) => (of(key)?.high ?? 0) - (of(key)?.low ?? 0);
  expect(width('lucky')).toBeGreaterThan(1.1 * width('c0'));
});

test('a harsh taster does not sink the cultivar that he alone tasted', () => {
  // Everyone finds a and b equal, but cy gives three points less; b is mostly his.
  const at = (a: readonly (number | undefined)[], b: readonly (number | undefined)[]) => ({ a, b });
  const seasons = [
    at([7, 7, 4, undefined], [undefined, undefined, 4, undefined]),
    at([7, 8, 4, undefined], [undefined, undefined, 4, undefined]),
    at([7, 7, 4, undefined], [7, undefined, 4, undefined]),
  ];
  const { ranked: rows } = ranked([
    { key: 'a', scores: seasons.map(({ a }) => a) },
    { key: 'b', scores: seasons.map(({ b }) => b) },
    { key: 'c', scores: seasons.map(() => [6, 6, 3, undefined]) },
    { key: 'd', scores: seasons.map(() => [5, 5, 2, undefined]) },
  ]);
  const index = (key: string) => rows.find(({ cultivar }) => cultivar.key === key)?.index ?? 0;
  // Plain means would give 6.0 and 4.75 for flavour; with a weight of one half that is 0.6 apart.
  expect(Math.abs(index('a') - index('b'))).toBeLessThan(0.25);
  expect(index('b')).toBeGreaterThan(index('c'));
});

test('what lacks a weighted part is not ranked, and says which', () => {
  const { ranked: rows, unranked } = ranked([...STEADY, { key: 'untasted', scores: [] }]);
  expect(rows).toHaveLength(4);
  expect(unranked.map(({ cultivar, lacks }) => [cultivar.key, lacks])).toEqual([
    ['untasted', ['flavour']],
  ]);
});

test('a crop of which nothing has every part is not modelled, and says what each lacks', () => {
  const { ranked: rows, unranked } = ranked([
    { key: 'a', scores: [[], []] },
    { key: 'b', scores: [[], []] },
  ]);
  expect(rows).toEqual([]);
  expect(unranked.map(({ cultivar, lacks }) => [cultivar.key, lacks])).toEqual([
    ['a', ['flavour']],
    ['b', ['flavour']],
  ]);
  for (const { parts } of unranked) {
    expect([...parts.values()].every((part) => part === undefined)).toBe(true);
  }
});

test('sites that no cultivar joins are told', () => {
  const apart = STEADY.map((one, at) => ({
    ...one,
    site: at < 2 ? ('glass' as const) : ('yard' as const),
  }));
  expect(ranked(apart).siteGroups).toEqual([['glass'], ['yard']]);
  expect(ranked(STEADY).siteGroups).toEqual([['yard']]);
});

test('equal scores throughout bring no NaN', () => {
  const flat = ['a', 'b', 'c'].map((key) => ({ key, scores: [[5, 5, 5, 5]] }));
  for (const { index, low, high, topShare } of ranked(flat).ranked) {
    for (const figure of [index, low, high, topShare]) expect(Number.isFinite(figure)).toBe(true);
  }
  const [only] = ranked([{ key: 'alone', scores: [[6, 7]] }]).ranked;
  expect(only?.rank).toBe(1);
  expect(only?.firstShare).toBe(1);
});

test('the same question in other words is not drawn twice, and another one is', () => {
  const ledger = madeTrial(STEADY);
  const seasons = ledger.seasons.map(({ year }) => year);
  const first = rankCrops(ledger, {}, OPTIONS);
  const drawsOf = ([main]: readonly CropRanking[]) => main?.ranked.map(({ draws }) => draws);
  expect(drawsOf(rankCrops(ledger, { seasons }, { ...OPTIONS, top: 1 }))?.[0]).toBe(
    drawsOf(first)?.[0],
  );
  const later = rankCrops(ledger, { seasons: seasons.slice(1) }, OPTIONS);
  expect(drawsOf(later)).not.toEqual(drawsOf(first));
  const again = rankCrops(ledger, {}, OPTIONS);
  expect(drawsOf(again)?.[0]).not.toBe(drawsOf(first)?.[0]);
  expect(drawsOf(again)).toEqual(drawsOf(first));
});

test('what is told by cover and over all covers comes from one run where both are wanted, and is the same apart', () => {
  const trial = () =>
    madeTrial(STEADY.map((one, at) => ({ ...one, site: at < 2 ? 'glass' : 'yard' })));
  const drawsOf = (rankings: readonly CropRanking[]) =>
    rankings.flatMap(({ ranked }) => ranked.map(({ draws, newLow }) => ({ draws, newLow })));
  const both = trial();
  const options = { ...OPTIONS, bothWays: true };
  const byCover = rankCrops(both, {}, { ...options, byCover: true });
  const whole = rankCrops(both, { sites: [] }, options);
  expect(byCover).toHaveLength(2);
  expect(drawsOf(byCover)).toEqual(drawsOf(rankCrops(trial(), {}, { ...OPTIONS, byCover: true })));
  expect(drawsOf(whole)).toEqual(drawsOf(rankCrops(trial(), {}, OPTIONS)));
  // Asked for again, nothing is drawn anew.
  expect(drawsOf(rankCrops(both, {}, { ...OPTIONS, byCover: true }))[0]?.draws).toBe(
    drawsOf(byCover)[0]?.draws,
  );
});
