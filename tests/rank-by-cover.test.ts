import { beforeAll, describe, expect, it } from 'vitest';
import { type Reported, rank, verdict } from '../src/index.ts';
import { rankCrops } from '../src/judge/index/rank.ts';
import { exampleFiles } from './support/example-files.ts';
import { ledgerFrom } from './support/ledger-from.ts';

const ledger = ledgerFrom(exampleFiles());
const MINUTES = 120_000;

describe('rank by cover', () => {
  let found: Reported;
  beforeAll(async () => {
    found = await rank(ledger, { by: 'cover', crop: 'main' });
  }, MINUTES);
  const under = (cover: string | null) => found.rows.filter((row) => row['cover'] === cover);
  const names = (cover: string | null) => under(cover).map((row) => row['cultivar']);

  it('counts ranks within a cover', () => {
    for (const cover of ['glass', 'open']) {
      const ranks = under(cover).map((row) => Number(row['rank']));
      expect(ranks[0]).toBe(1);
      expect(Math.max(...ranks)).toBeLessThanOrEqual(under(cover).length);
    }
    expect(found.selection['by']).toEqual(['cultivar', 'cover']);
  });

  it('has no row for a cultivar that nobody saw under a cover, and says so', () => {
    expect(names('glass')).toContain('Penny Wherry');
    expect(names('open')).not.toContain('Penny Wherry');
    expect(names('open')).toContain('Bushel Maid');
    expect(names('glass')).not.toContain('Bushel Maid');
    const notes = found.notes.map(({ text }) => text).join('\n');
    expect(notes).toMatch(/Never seen in the open, main crop.*Penny Wherry/);
    expect(notes).toMatch(/Never seen under glass, main crop.*Bushel Maid/);
  });

  it('says which parts it borrows from other covers', () => {
    const ember = under('open').find((row) => row['cultivar'] === 'Stubble Ember');
    expect(ember).toMatchObject({ tastings: 0, borrows: 'sweetness, flavour' });
    const own = under('open').find((row) => row['cultivar'] === 'Harrow Candle');
    expect(own?.['borrows']).toBeNull();
    const told = found.notes.find(({ text }) => text.startsWith('Not seen in the open itself'));
    expect(told?.text).toContain('Stubble Ember (sweetness and flavour)');
    // What is borrowed is less sure.
    const width = (row: typeof own) => Number(row?.['high']) - Number(row?.['low']);
    expect(width(ember)).toBeGreaterThan(width(own));
  });

  it('tells once of those that cannot be ranked anywhere', () => {
    expect(names(null)).toEqual(['Ferry Bell']);
  });

  it('knows no other rows', async () => {
    await expect(rank(ledger, { by: 'site' as 'cover' })).rejects.toThrow(/by site/);
  });
});

it('verdict by cover judges by what was seen under it', { timeout: MINUTES }, async () => {
  const { rows, notes } = await verdict(ledger, { by: 'cover', crop: 'main' });
  const ember = rows.find((row) => row['cultivar'] === 'Stubble Ember' && row['cover'] === 'open');
  expect(ember).toMatchObject({ tastings: 0, verdict: 'watch', rule: 'thin-evidence' });
  expect(ember?.['why']).toMatch(/^0 of \d tastings there \([1-9]\d* in all\)$/);
  const ranked = rankCrops(
    ledger,
    { crops: ['main'] },
    { confidence: 0.95, top: 1, seed: 1, byCover: true },
  );
  for (const { cover, ranked: own } of ranked) {
    for (const { cultivar, low } of own) {
      const row = rows.find(
        (one) => one['cultivar'] === cultivar.name && one['cover'] === (cover ?? null),
      );
      expect(row?.['low']).toBe(low);
    }
  }
  const { minSeasons, minTastings } = ledger.trial.verdict;
  const isEnough = (one: { seasons: number; tastings: number }) =>
    one.seasons >= minSeasons && one.tastings >= minTastings;
  const seldom = ranked.flatMap(({ ranked: own }) =>
    own.filter((one) => !isEnough(one) && isEnough(one.everywhere)),
  );
  expect(seldom.length).toBeGreaterThan(0);
  const told = notes.find(({ text }) => text.includes('counted under each cover by itself'));
  for (const { cultivar } of seldom) expect(told?.text).toContain(cultivar.name);
});
