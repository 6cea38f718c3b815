// From orders in a ledger's files to the printed worths and agreement. Sources of the cases are
// named in j_bradley_terry_plackett_luce.json (Turner, van Etten, Firth & Kosmidis 2020; Davidson
// 1970; closed forms) and i_rank_methods.json (Siegel 1956, chapter 9; Kendall 1948).
import { describe, expect, it } from 'vitest';
import { noteText, runJson } from '../support/run-json.ts';
import { type OrderRow, tastingFiles } from '../support/tasting-ledger.ts';
import { expectAgreement } from './agreement.ts';
import { toFields, toList, toNumber, toNumbers, toTexts } from './narrow.ts';
import { readReference } from './read-reference.ts';

const { cases } = readReference('j_bradley_terry_plackett_luce');

function caseNamed(id: string) {
  const one = cases.find((held) => held.id === id);
  if (one === undefined) throw new Error(`no case ${id}`);
  return { data: one.data, expected: one.expected };
}

/** Each order a sitting of its own. */
function sittings(orders: readonly (readonly (readonly string[])[])[]): OrderRow[] {
  return orders.map((ranks, at) => ({ taster: `t${at % 3}`, sitting: `s${at}`, ranks }));
}

function inRanks(places: readonly number[], names: readonly string[]): string[][] {
  const used = [...new Set(places)].filter((place) => place > 0).sort((a, b) => a - b);
  return used.map((place) => names.filter((_, item) => places[item] === place));
}

describe('worths of partial orders with ties', () => {
  const { data, expected } = caseNamed('davidson_luce_partial_with_ties');
  const names = toTexts(data['items']);
  const orders = toList(data['ranks_0_is_unranked']).map((one) => inRanks(toNumbers(one), names));
  const files = tastingFiles([], sittings(orders));

  it.each([
    ['0', 'worth_sum1', 1e-8],
    ['0.5', 'PlackettLuce_npseudo0.5', 1e-10],
  ])('with a prior of %s are those published', async (prior, key, abs) => {
    const { rows } = await runJson(files, 'preference', '--prior', prior);
    const wanted = toFields(expected[key]);
    expect(rows).toHaveLength(names.length);
    for (const { cultivar, worth } of rows) {
      const value = toNumber(wanted[String(cultivar)]);
      expectAgreement(Number(worth), value, { abs }, `worth of ${cultivar}`);
    }
  });

  it('count orders and wins, a tie half a win each', async () => {
    const { rows } = await runJson(files, 'preference');
    const apple = rows.find(({ cultivar }) => cultivar === 'apple');
    // 1-2, last of 4, behind three, 1-2-3, behind two, before two: 1 + 0 + 0 + 2 + 0 + 2 wins.
    expect(apple).toMatchObject({ orders: 6, wins: 5 });
  });
});

it('log worth of three wins to one is log 3 apart', async () => {
  const { expected } = caseNamed('two_items_3_to_1');
  const orders = [
    ['A', 'B'],
    ['A', 'B'],
    ['B', 'A'],
    ['A', 'B'],
  ].map((order) => order.map((name) => [name]));
  const report = await runJson(tastingFiles([], sittings(orders)), 'preference', '--prior', '0');
  const [a, b] = report.rows;
  expect(a).toMatchObject({ cultivar: 'A', crop: 'main', orders: 4, wins: 3 });
  expect(Number(a?.['worth'])).toBeCloseTo(0.75, 10);
  const apart = Number(a?.['logWorth']) - Number(b?.['logWorth']);
  expectAgreement(apart, toNumber(expected['log_worth_A_minus_B']), { abs: 1e-9 }, 'log worths');
  // Two cultivars share the variance of their difference equally.
  const se = Math.hypot(Number(a?.['se']), Number(b?.['se']));
  expectAgreement(se, toNumber(expected['se']), { abs: 1e-9 }, 'error of the difference');
  expect(noteText(report)).toContain(
    'A is placed before B in about 8 of 10 orders, ties aside; they cannot be told apart yet',
  );
});

describe('agreement of tasters', () => {
  const { cases: panels } = readReference('i_rank_methods');

  it.each(['siegel_applicants', 'kendall_ties_3_judges_10'])('%s', async (id) => {
    const one = panels.find((held) => held.id === id);
    const values = toList(one?.data['y']).map(toNumbers);
    const names = (values[0] ?? []).map((_, item) => `c${item}`);
    const orders = values.map((places, judge) => ({
      taster: `j${judge}`,
      sitting: 'one',
      ranks: inRanks(places, names),
    }));
    const text = noteText(await runJson(tastingFiles([], orders), 'preference'));
    const [, w = '', p = ''] = /\(W ([\d.]+), p ([\d.]+|below 0\.001)\)/.exec(text) ?? [];
    const expected = one?.expected ?? {};
    const wanted = toNumber(expected['kendall_W_tie_corrected']);
    expect(w).toBe(wanted.toFixed(2));
    const chance = toNumber(expected['p_exact_permutation'] ?? expected['iman_davenport_p']);
    expect(p).toBe(chance < 0.001 ? 'below 0.001' : chance.toFixed(2));
    expect(text).toContain(
      `3 tasters of ${names.length} plates ${chance < 0.05 ? 'agreed well' : 'did not clearly agree'}`,
    );
  });
});
