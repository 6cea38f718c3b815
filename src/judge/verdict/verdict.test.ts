import { describe, expect, test } from 'vitest';
import { ledgerFrom } from '../../../tests/support/ledger-from.ts';
import { type MadeCultivar, madeTrialFiles } from '../../../tests/support/made-trial.ts';
import type { Selection } from '../../measure/selection.ts';
import { PLANS } from './remedies.ts';
import { type Judgement, judge } from './verdict.ts';

const OPTIONS = { confidence: 0.9, top: 1, seed: 1 };

function judged(cultivars: readonly MadeCultivar[], marks: string, selection: Selection = {}) {
  const files = madeTrialFiles(cultivars);
  files['ledger.yaml'] += `verdict: { ${marks} }\n`;
  const found = judge(ledgerFrom(files), selection, OPTIONS);
  return (key: string): Judgement =>
    found.find(({ cultivar }) => cultivar.key === key) ?? expect.fail(`no verdict of ${key}`);
}

const years = (scores: readonly number[]) => [scores, scores, scores, scores];
const CULTIVARS: readonly MadeCultivar[] = [
  { key: 'best', trees: 3, scores: years([9, 9, 9, 9]), fruit: 38, weight: 75 },
  { key: 'fair', trees: 3, scores: years([6, 7, 6, 7]), fruit: 25, weight: 50 },
  { key: 'poor', trees: 3, scores: years([2, 2, 3, 2]), fruit: 4, weight: 24 },
  { key: 'new', trees: 1, scores: [[9, 9, 9, 9]], fruit: 38, weight: 75 },
  { key: 'never', trees: 1, scores: [] },
];
const MARKS = 'min_seasons: 3, min_tastings: 3, increase_above: 7.5, discard_below: 5';

describe('verdict', () => {
  const of = judged(CULTIVARS, MARKS);

  test('increase only where all of the interval is above the mark', () => {
    expect(of('best')).toMatchObject({ verdict: 'increase', rule: 'surely-above-increase' });
    expect(of('best').low).toBeGreaterThanOrEqual(7.5);
  });

  test('watch where no tree is past its third year, however poor its fruit', () => {
    const young = judged(
      CULTIVARS.map((one) => (one.key === 'poor' ? { ...one, planted: 2024 } : one)),
      MARKS,
    );
    // Trials of four years from 2024 on: by the last one these trees are in their third.
    expect(young('poor')).toMatchObject({ verdict: 'watch', rule: 'young-trees', oldest: 3 });
    expect(young('best').verdict).toBe('increase');
    const grown = judged(
      CULTIVARS.map((one) => (one.key === 'poor' ? { ...one, planted: 2020 } : one)),
      MARKS,
    );
    expect(grown('poor')).toMatchObject({ oldest: 7 });
    expect(grown('poor').rule).not.toBe('young-trees');
  });

  test('discard only where all of the interval is below the mark', () => {
    expect(of('poor')).toMatchObject({ verdict: 'discard', rule: 'surely-below-discard' });
    expect(of('poor').high).toBeLessThanOrEqual(5);
  });

  test('retain between the marks', () => {
    expect(of('fair')).toMatchObject({ verdict: 'retain', rule: 'surely-above-discard' });
  });

  test('thin evidence is watch, however good, and says what is missing', () => {
    // Four seasons of picks, but one tasting.
    expect(of('new')).toMatchObject({
      verdict: 'watch',
      rule: 'thin-evidence',
      seasonsMissing: 0,
      tastingsMissing: 2,
    });
    expect(of('never')).toMatchObject({ verdict: 'watch', rule: 'not-ranked', lacks: ['flavour'] });
  });

  test('an interval that spans the mark is watch, with what would settle it', () => {
    const index = of('fair').index ?? 0;
    const marks = `min_seasons: 3, min_tastings: 3, increase_above: 9, discard_below: ${(index - 0.15).toFixed(2)}`;
    const open = judged(CULTIVARS, marks)('fair');
    expect(open).toMatchObject({ verdict: 'watch', rule: 'spans-discard' });
    expect(Object.keys(open.remedies ?? {})).toEqual(Object.keys(PLANS));
  });

  /** What may settle the middle one, with a mark a share of half its interval below it. */
  const openAt = (share: number) => {
    const { index = 0, low = 0 } = of('fair');
    const mark = (index - share * (index - low)).toFixed(3);
    const marks = `min_seasons: 3, min_tastings: 3, increase_above: 9, discard_below: ${mark}`;
    const { rule, remedies } = judged(CULTIVARS, marks)('fair');
    expect(rule).toBe('spans-discard');
    return remedies ?? expect.fail('nothing said');
  };

  test('more evidence is likelier to settle it, on the side where it lies', () => {
    const { settled1Season, settled2Seasons, settled4Seasons, ...others } = openAt(0.6);
    expect(settled1Season.above).toBeLessThan(settled2Seasons.above);
    expect(settled2Seasons.above).toBeLessThan(settled4Seasons.above);
    for (const way of [settled1Season, settled2Seasons, settled4Seasons]) {
      expect(way.above).toBeGreaterThan(way.below);
      expect(way.above + way.below).toBeLessThan(1);
    }
    const { settled2SeasonsAnotherTree, settled2Seasons3Tastings } = others;
    expect(settled2SeasonsAnotherTree.above).toBeGreaterThan(settled2Seasons.above);
    expect(settled2Seasons3Tastings.above).toBeGreaterThan(settled2Seasons.above);
    expect(others.settled6Tastings.above).toBeGreaterThan(others.settled3Tastings.above);
  });

  test('it is the less likely, the nearer the mark', () => {
    const chance = (share: number) => openAt(share).settled2Seasons.above;
    expect(chance(0.1)).toBeLessThan(chance(0.5));
    expect(chance(0.5)).toBeLessThan(chance(0.9));
  });

  test('a tree that is no more bears nothing in a plan', () => {
    const { index = 0, low = 0 } = of('fair');
    const marks = `min_seasons: 3, min_tastings: 3, increase_above: 9, discard_below: ${((index + low) / 2).toFixed(2)}`;
    const gone = CULTIVARS.map((one) =>
      one.key === 'fair' ? { ...one, removed: '2027-12-31' } : one,
    );
    const plans = judged(gone, marks)('fair').remedies ?? expect.fail('nothing said');
    const chance = ({ above, below }: { above: number; below: number }) => above + below;
    expect(chance(plans.settled4Seasons)).toBe(0);
    expect(chance(plans.settled6Tastings)).toBe(0);
    expect(chance(plans.settled2SeasonsAnotherTree)).toBeGreaterThan(0);
    const standing = judged(CULTIVARS, marks)('fair').remedies;
    // One tree bears in place of three and one.
    expect(chance(plans.settled2SeasonsAnotherTree)).toBeLessThan(
      chance(standing?.settled2SeasonsAnotherTree ?? { above: 0, below: 0 }),
    );
  });

  test('of thin evidence no chance is said', () => {
    expect(of('new').remedies).toBeUndefined();
  });
});
