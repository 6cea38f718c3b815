// The whole way from a ledger's files to the printed figures, against the same published cases that
// the mathematics is held against. Least-squares means by R's lm and emmeans: barley of Immer, Hayes
// & Powers 1934, J. Am. Soc. Agron. 26:403-419 (variety as cultivar, place as taster, year as
// sitting); tasting of Kuznetsova, Brockhoff & Christensen 2017, J. Stat. Softw. 82(13). Letters:
// sources of the cases are named in f_anova_lsd_tukey_cld.json. Plate and taster: Shrout & Fleiss 1979.
import { describe, expect, it } from 'vitest';
import { leastScoreDifference, scoreAnova } from '../../src/judge/scores/score-anova.ts';
import { scoreModels } from '../../src/judge/scores/score-models.ts';
import { ledgerFrom } from '../support/ledger-from.ts';
import { noteText, runJson } from '../support/run-json.ts';
import { type ScoreRow, tastingFiles } from '../support/tasting-ledger.ts';
import { expectAgreement } from './agreement.ts';
import { toFields, toList, toNumbers, toTexts } from './narrow.ts';
import { readReference } from './read-reference.ts';

const SCALE = { low: -1000, high: 1000 };
const { cases } = readReference('g_additive_models_emmeans');
const found = (id: string) => {
  const one = cases.find((held) => held.id === id);
  if (one === undefined) throw new Error(`no case ${id}`);
  return one;
};

/** Columns of a reference as scores; a factor that it does not have has one level. */
function scoreRows(
  columns: Readonly<Record<string, unknown>>,
  { value, cultivar, taster, sitting }: Readonly<Record<string, string>>,
): ScoreRow[] {
  const level = (key: string | undefined, row: number) =>
    key === undefined ? 'all' : String((columns[key] as readonly unknown[])[row]);
  return toNumbers(columns[value ?? '']).map((each, row) => ({
    value: each,
    cultivar: level(cultivar, row),
    taster: level(taster, row),
    sitting: level(sitting, row),
  }));
}

const MODELS = [
  ['immer_balanced', { value: 'yield', cultivar: 'Var', taster: 'Loc', sitting: 'Year' }],
  ['immer_13_rows_removed', { value: 'yield', cultivar: 'Var', taster: 'Loc', sitting: 'Year' }],
  ['immer_Y1_two_way_9_missing', { value: 'yield', cultivar: 'Var', taster: 'Loc' }],
  [
    'tasting_TVbo_16_of_48_removed',
    { value: 'score', cultivar: 'cultivar', taster: 'taster', sitting: 'session' },
  ],
  [
    'tasting_TVbo_12_products_sparse',
    { value: 'score', cultivar: 'cultivar', taster: 'taster', sitting: 'session' },
  ],
] as const;

describe.each(MODELS)('scores of %s', (id, roles) => {
  it('are the least-squares means of R', async () => {
    const { data, expected } = found(id);
    const rows = scoreRows(toFields(data['columns']), roles);
    const { rows: told } = await runJson(
      tastingFiles(rows, [], SCALE),
      'scores',
      '--unit',
      'score',
    );
    const wanted = toFields(expected[`emmeans_${roles.cultivar}`]);
    const levels = toTexts(wanted['level']);
    expect(told.map(({ cultivar }) => cultivar).sort()).toEqual(levels.toSorted());
    const keys = { emmean: 'mean', se: 'se', raw_mean: 'raw', lower95: 'low', upper95: 'high' };
    for (const [at, level] of levels.entries()) {
      const row = told.find(({ cultivar }) => cultivar === level);
      for (const [theirs, ours] of Object.entries(keys)) {
        const value = toNumbers(wanted[theirs])[at] ?? Number.NaN;
        expectAgreement(Number(row?.[ours]), value, { rel: 1e-10 }, `${ours} of ${level}`);
      }
      // A score a row, each of another plate or by another taster.
      expect(rows.filter(({ cultivar }) => cultivar === level)).toHaveLength(
        toNumbers(wanted['n'])[at] ?? Number.NaN,
      );
    }
  });
});

it('scores keep seasons that share no cultivar apart, and compare within each as R does', async () => {
  const { data, expected } = found('disconnected_not_estimable');
  const rows = scoreRows(toFields(data['columns']), {
    value: 'y',
    cultivar: 'cultivar',
    sitting: 'season',
  });
  const { rows: told, notes } = await runJson(tastingFiles(rows), 'scores', '--unit', 'score');
  const groupOf = (name: string) => told.find(({ cultivar }) => cultivar === name)?.['group'];
  expect(['A', 'B', 'C', 'D'].map(groupOf)).toEqual([1, 1, 2, 2]);
  const mean = (name: string) => Number(told.find(({ cultivar }) => cultivar === name)?.['mean']);
  const [ab = Number.NaN] = toFields(expected['pairs'])['estimate'] as number[];
  expectAgreement(mean('A') - mean('B'), ab, { rel: 1e-10 }, 'A - B');
  expect(mean('C') - mean('D')).toBeCloseTo(-1.25, 10);
  expect(notes.find(({ text }) => text.includes('group 1: A and B; group 2: C and D'))?.kind).toBe(
    'caution',
  );
});

const LETTERED = [
  ['PlantGrowth', { value: 'weight', cultivar: 'group' }],
  ['PlantGrowth_unbalanced', { value: 'weight', cultivar: 'group' }],
  ['airquality_Ozone_by_Month', { value: 'Ozone', cultivar: 'Month' }],
  ['OrchardSprays_oneway', { value: 'decrease', cultivar: 'treatment' }],
  [
    'OrchardSprays_latin_square',
    { value: 'decrease', cultivar: 'treatment', taster: 'row', sitting: 'col' },
  ],
  ['npk_blocks_remove_2_rows', { value: 'yield', cultivar: 'NK', taster: 'block' }],
  ['immer_RCB', { value: 'Y', cultivar: 'Var', taster: 'Loc' }],
] as const;

it.each(LETTERED)('letters of %s are those of Tukey-Kramer', async (id, roles) => {
  const one = readReference('f_anova_lsd_tukey_cld').cases.find((held) => held.id === id);
  const rows = scoreRows(toFields(one?.data['columns']), roles);
  const { rows: told } = await runJson(tastingFiles(rows, [], SCALE), 'scores', '--unit', 'score');
  const letters = Object.fromEntries(told.map(({ cultivar, letters }) => [cultivar, letters]));
  expect(sameLetters(letters)).toEqual(sameLetters(toFields(one?.expected['cld_tukey'])));
});

it.each(LETTERED)('analysis of variance and least difference of %s are those of R', (id, roles) => {
  const one = readReference('f_anova_lsd_tukey_cld').cases.find((held) => held.id === id);
  const rows = scoreRows(toFields(one?.data['columns']), roles);
  const [model] = scoreModels(ledgerFrom(tastingFiles(rows, [], SCALE)), {}, { unit: 'score' });
  if (one === undefined || model === undefined) throw new Error('no model');
  const anova = scoreAnova(model);
  const wanted = toFields(one.expected['anova']);
  // The line before the last is that of the treatments, whatever the order of the blocks.
  const of = (key: string, place: number) => Number((wanted[key] as unknown[]).at(place));
  const near = { rel: 1e-10 };
  expect([anova?.subject.df, anova?.residual.df]).toEqual([of('df', -2), of('df', -1)]);
  expectAgreement(anova?.subject.ms, of('ms', -2), near, 'mean square');
  expectAgreement(anova?.residual.ms, of('ms', -1), near, 'residual mean square');
  expectAgreement(anova?.subject.f, of('F', -2), near, 'F');
  expectAgreement(anova?.subject.p, of('p', -2), { rel: 1e-9 }, 'p');
  const pairs = toList(one.expected['pairs']).map((pair) => Number(toFields(pair)['lsd']));
  const rising = pairs.toSorted((a, b) => a - b);
  const [low = 0, high = 0] = [
    rising[Math.floor((pairs.length - 1) / 2)],
    rising[Math.floor(pairs.length / 2)],
  ];
  expectAgreement(leastScoreDifference(model, 0.05), (low + high) / 2, near, 'LSD');
});

it('plate and taster of Shrout & Fleiss 1979, table 2, are those published', async () => {
  // Psychological Bulletin 86:420-428: six targets, four judges; ICC(2,1) .29, ICC(3,1) .71, ICC(2,4)
  // .62. The limits of ICC(2,1) are those of the file.
  const [one] = readReference('k_icc').cases;
  const marks = toList(one?.data['rows_targets_cols_judges']).map(toNumbers);
  const rows = marks.flatMap((row, target) =>
    row.map((value, judge) => ({
      value,
      cultivar: `target${target + 1}`,
      taster: `judge${judge + 1}`,
      sitting: 'all',
    })),
  );
  const [low = 0, high = 0] = toNumbers(toFields(one?.expected['ci95'])['ICC2_1']);
  const told = noteText(await runJson(tastingFiles(rows), 'scores', '--explain'));
  expect(told).toContain(
    `about 29 % is the plate and 71 % the taster's own view, harshness included (ICC(2,1) 0.29, 95 % ${low.toFixed(2)} to ${high.toFixed(2)}; 6 plates that judge1, judge2, judge3 and judge4 all scored; harshness set aside, ICC(3,1) 0.71); the mean of these 4 is about 62 % the plate.`,
  );
});

/** Which treatments share a letter: two displays may name their letters differently. */
function sameLetters(letters: Readonly<Record<string, unknown>>): string[] {
  const names = Object.keys(letters).sort();
  return names.flatMap((a, i) =>
    names
      .slice(i + 1)
      .filter((b) => [...String(letters[a])].some((one) => String(letters[b]).includes(one)))
      .map((b) => `${a} ${b}`),
  );
}

/**
 * Strength of paste: 10 batches as cultivars, 3 casks of each as plates, 2 assays of each cask as tasters (Davies &
 * Goldsmith 1972, Statistical Methods in Research and Production, section 6.5; variance components by REML, which in
 * a balanced layout are those of the analysis of variance: the mean square of casks is residual + 2 casks, that of
 * batches has 6 batches more).
 */
it('scores take the plate as unit: batches are held against casks, not against assays', async () => {
  const one = readReference('h_reml_blup').cases.find(({ id }) => id === 'Pastes_nested');
  const columns = toFields(one?.data['columns']);
  const batches = toTexts(columns['batch']);
  const rows = toNumbers(columns['strength']).map((value, row) => ({
    value,
    cultivar: batches[row] ?? '',
    taster: row % 2 === 0 ? 'first' : 'second',
    sitting: 'all',
  }));
  const { sample, batch, Residual } = toFields(one?.expected['variance_components']) as Record<
    'sample' | 'batch' | 'Residual',
    number
  >;
  const [model] = scoreModels(ledgerFrom(tastingFiles(rows, [], SCALE)), {});
  const anova = model === undefined ? undefined : scoreAnova(model);
  expect([anova?.subject.df, anova?.residual.df]).toEqual([9, 20]);
  const ofPlates = sample + Residual / 2;
  expectAgreement(anova?.residual.ms ?? 0, ofPlates, { rel: 1e-10 }, 'mean square of casks');
  expectAgreement(anova?.subject.f ?? 0, 1 + (3 * batch) / ofPlates, { rel: 1e-10 }, 'F');
  const { rows: told } = await runJson(tastingFiles(rows, [], SCALE), 'scores');
  for (const { se } of told) {
    expectAgreement(Number(se), Math.sqrt(ofPlates / 3), { rel: 1e-10 }, 'standard error');
  }
  const apart = told.filter(({ letters }) => !String(letters).includes('a'));
  expect(apart).toEqual([]);
  const { rows: each } = await runJson(tastingFiles(rows, [], SCALE), 'scores', '--unit', 'score');
  expect(each.every(({ se }) => Number(se) < 0.9 * Math.sqrt(ofPlates / 3))).toBe(true);
});
