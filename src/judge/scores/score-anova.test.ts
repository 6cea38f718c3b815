import { expect, it } from 'vitest';
import { ledgerFrom } from '../../../tests/support/ledger-from.ts';
import { type ScoreRow, tastingFiles } from '../../../tests/support/tasting-ledger.ts';
import { leastScoreDifference, scoreAnova } from './score-anova.ts';
import { scoreModels } from './score-models.ts';

function modelOf(text: string) {
  const rows = text.split('|').map((line): ScoreRow => {
    const [taster = '', sitting = '', cultivar = '', value = ''] = line.trim().split(' ');
    return { taster, sitting, cultivar, value: Number(value) };
  });
  const [model] = scoreModels(ledgerFrom(tastingFiles(rows)), {}, { unit: 'score' });
  if (model === undefined) throw new Error('no model');
  return model;
}

const BALANCED =
  'mara one amber 8|mara one slate 6|joss one amber 7|joss one slate 5.5|' +
  'mara two amber 6|mara two slate 5|joss two amber 6.5|joss two slate 4';

it('parts the spread among sittings, tasters and cultivars', () => {
  // Worked by hand: mean 6; sittings 6.625 and 5.375, tasters 6.25 and 5.75, cultivars 6.875 and
  // 5.125; sums of squares 3.125, 0.5 and 6.125 of 298.5 - 8 * 36 = 10.5, so 0.75 is left on 4.
  const anova = scoreAnova(modelOf(BALANCED));
  expect(anova?.sitting).toMatchObject({ df: 1, ss: expect.closeTo(3.125, 12) });
  expect(anova?.taster).toMatchObject({ df: 1, ss: expect.closeTo(0.5, 12) });
  expect(anova?.subject).toMatchObject({ df: 1, ss: expect.closeTo(6.125, 12) });
  expect(anova?.residual).toMatchObject({ df: 4, ms: expect.closeTo(0.1875, 12) });
  expect(anova?.subject.f).toBeCloseTo(6.125 / 0.1875, 10);
});

it('gives the least difference that counts', () => {
  // t of 4 degrees of freedom at 0.975, from the printed tables: 2.776; four scores a cultivar.
  const least = leastScoreDifference(modelOf(BALANCED), 0.05);
  expect(least).toBeCloseTo(2.776 * Math.sqrt(0.1875 / 2), 3);
});

it('says nothing where nothing is left to judge by', () => {
  const few = modelOf('mara one amber 8|mara one slate 6');
  expect(scoreAnova(few)).toBeUndefined();
  expect(leastScoreDifference(few, 0.05)).toBeUndefined();
  const alike = modelOf('mara one amber 8|mara one slate 6|joss one amber 7|joss one slate 5');
  expect(scoreAnova(alike)).toBeUndefined();
  const alone = modelOf('mara one amber 8|joss one amber 6|mara two amber 5|joss two amber 6');
  expect(scoreAnova(alone)?.subject).toMatchObject({ df: 0, f: undefined });
  expect(leastScoreDifference(alone, 0.05)).toBeUndefined();
});
