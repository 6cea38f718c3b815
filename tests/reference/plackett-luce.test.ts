import { describe, expect, it } from 'vitest';
import {
  type BestFirst,
  type PlackettLuce,
  plackettLuce,
} from '../../src/stats/orders/plackett-luce.ts';
import { expectAgreement } from './agreement.ts';
import { type ReferenceCase, readReference } from './read-reference.ts';

// Sources of the cases are named in the file: Agresti 1990 (baseball), Hunter 2004 (stock-car
// races), Davidson 1970 (puddings with ties), Turner, van Etten, Firth and Kosmidis 2020 (ties of
// three), and closed forms.

type Named = Readonly<Record<string, number>>;

type Fields = {
  readonly items?: readonly string[];
  readonly drivers?: readonly string[];
  readonly wins_row_beats_column?: readonly (readonly number[])[];
  readonly orderings_best_first?: readonly { order: readonly string[]; count: number }[];
  readonly races_best_first_driver_ids_1_based?: readonly (readonly number[])[];
  readonly ranks_0_is_unranked?: readonly (readonly number[])[];
  readonly columns?: Readonly<Record<'i' | 'j' | 'w_ij' | 'w_ji' | 't_ij', readonly number[]>>;
};

type Expected = {
  readonly worth_sum1?: Named;
  readonly log_worth_sum_zero?: Named;
  readonly log_worth_ref_first?: Named;
  readonly log_worth_ref_Austin_Cameron?: Named;
  readonly se_ref_first?: Named;
  readonly se_ref_Austin_Cameron?: Named;
  readonly se_log_worth?: Named;
  readonly loglik?: number;
  readonly loglik_bernoulli?: number;
  readonly nu_tie?: number;
  readonly se_log_nu?: number;
  readonly tie2?: number;
  readonly tie3?: number;
  readonly 'PlackettLuce_npseudo0.5'?: Named;
};

type Orders = { names: readonly string[]; orders: BestFirst[]; times: number[] };

function toOrders(fields: Fields, expected: Expected): Orders {
  const names = fields.items ?? fields.drivers ?? Object.keys(expected.worth_sum1 ?? {});
  const result: Orders = { names, orders: [], times: [] };
  const add = (order: BestFirst, times: number) => {
    if (times === 0) return;
    result.orders.push(order);
    result.times.push(times);
  };
  fields.wins_row_beats_column?.forEach((row, i) => {
    row.forEach((wins, j) => {
      add([[i], [j]], wins);
    });
  });
  for (const { order, count } of fields.orderings_best_first ?? []) {
    add(
      order.map((name) => [names.indexOf(name)]),
      count,
    );
  }
  for (const race of fields.races_best_first_driver_ids_1_based ?? []) {
    add(
      race.map((id) => [id - 1]),
      1,
    );
  }
  for (const ranks of fields.ranks_0_is_unranked ?? []) {
    const places = [...new Set(ranks)].filter((rank) => rank > 0).sort((a, b) => a - b);
    add(
      places.map((place) => ranks.flatMap((rank, item) => (rank === place ? [item] : []))),
      1,
    );
  }
  fields.columns?.i.forEach((first, row) => {
    const at = (column: 'j' | 'w_ij' | 'w_ji' | 't_ij') =>
      fields.columns?.[column][row] ?? Number.NaN;
    const [a, b] = [first - 1, at('j') - 1];
    add([[a], [b]], at('w_ij'));
    add([[b], [a]], at('w_ji'));
    add([[a, b]], at('t_ij'));
  });
  return result;
}

function errorFromFirst({ covariance }: PlackettLuce, item: number): number {
  const entry = (i: number, j: number) => covariance[i]?.[j] ?? Number.NaN;
  return Math.sqrt(Math.max(0, entry(item, item) + entry(0, 0) - 2 * entry(item, 0)));
}

const cases = readReference('j_bradley_terry_plackett_luce').cases.filter(
  // A home advantage is another model.
  ({ id }) => id !== 'agresti_baseball_home_advantage',
);
const withTies = (id: string) => id.startsWith('davidson');

function expectNamed(
  expected: Named | undefined,
  names: readonly string[],
  value: (item: number) => number | undefined,
  tolerance: number,
  what: string,
): void {
  for (const [name, reference] of Object.entries(expected ?? {})) {
    const kind = { abs: tolerance, rel: tolerance };
    expectAgreement(value(names.indexOf(name)), reference, kind, `${what} of ${name}`);
  }
}

function checkCase({ id, data, expected: fields }: ReferenceCase): void {
  const expected = fields as Expected;
  const { names, orders, times } = toOrders(data as Fields, expected);
  const result = plackettLuce(orders, names.length, { prior: 0, times });
  const fromFirst = (item: number) => (result.logWorths[item] ?? 0) - (result.logWorths[0] ?? 0);
  // The cases with ties were found with numerical derivatives, good to 3e-9; the others to 15
  // digits.
  const near = withTies(id) ? 1e-8 : 1e-12;
  expect(result.converged).toBe(true);
  expect(result.groups).toHaveLength(1);
  expectNamed(expected.worth_sum1, names, (item) => result.worths[item], near, 'worth');
  expectNamed(
    expected.log_worth_sum_zero,
    names,
    (item) => result.logWorths[item],
    near,
    'log worth',
  );
  expectNamed(expected.log_worth_ref_first, names, fromFirst, near, 'log worth from first');
  expectNamed(
    expected.log_worth_ref_Austin_Cameron,
    names,
    fromFirst,
    near,
    'log worth from first',
  );
  const error = (item: number) => errorFromFirst(result, item);
  expectNamed(expected.se_ref_first, names, error, near, 'standard error');
  expectNamed(expected.se_ref_Austin_Cameron, names, error, near, 'standard error');
  expectNamed(expected.se_log_worth, names, error, near, 'standard error');
  const logLikelihood = expected.loglik ?? expected.loglik_bernoulli ?? Number.NaN;
  expectAgreement(result.logLikelihood, logLikelihood, { rel: 1e-12 }, 'log-likelihood');
}

describe('plackettLuce by maximum likelihood', () => {
  it.each(cases)('$id: $provenance', checkCase);

  it('gives the tie parameters of puddings and of ties of three', () => {
    for (const { id, data, expected: fields } of cases.filter(({ id }) => withTies(id))) {
      const expected = fields as Expected;
      const { names, orders, times } = toOrders(data as Fields, expected);
      const { ties } = plackettLuce(orders, names.length, { prior: 0, times });
      const two = expected.nu_tie ?? expected.tie2 ?? Number.NaN;
      expectAgreement(ties[0]?.worth, two, { rel: 1e-9 }, `${id} ties of 2`);
      if (expected.tie3 !== undefined) {
        expectAgreement(ties[1]?.worth, expected.tie3, { rel: 1e-9 }, `${id} ties of 3`);
      }
      if (expected.se_log_nu !== undefined) {
        expectAgreement(ties[0]?.standardError, expected.se_log_nu, { rel: 1e-8 }, `${id} error`);
      }
    }
  });
});

it('plackettLuce with a prior of a half gives what the published implementation gives', () => {
  const reference = cases.find(({ id }) => id === 'davidson_luce_partial_with_ties');
  const expected = reference?.expected as Expected;
  const { names, orders } = toOrders(reference?.data as Fields, expected);
  const { worths, ties } = plackettLuce(orders, names.length, { prior: 0.5 });
  const published = expected['PlackettLuce_npseudo0.5'] ?? {};
  const { tie2 = Number.NaN, tie3 = Number.NaN, ...named } = published;
  expect(Object.keys(named)).toEqual(names);
  expectNamed(named, names, (item) => worths[item], 1e-10, 'worth');
  expectAgreement(ties[0]?.worth, tie2, { rel: 1e-10 }, 'ties of 2');
  expectAgreement(ties[1]?.worth, tie3, { rel: 1e-10 }, 'ties of 3');
});

it('plackettLuce gives the puddings to 14 digits', () => {
  // Davidson 1970, JASA 65:317-328. The same likelihood maximised by Newton's method in 40 decimal
  // digits (mpmath 1.3), since the values above come from numerical derivatives and are good to
  // 3e-9.
  const reference = cases.find(({ id }) => id === 'davidson_pudding_ties');
  const expected = reference?.expected as Expected;
  const { orders, times } = toOrders(reference?.data as Fields, expected);
  const result = plackettLuce(orders, 6, { prior: 0, times });
  const logWorths = [
    0.22024190024132334, 0.15297770485417483, 0.17514490858980666, 0.1338652269910977,
    0.3771348958015903,
  ];
  const errors = [
    0.18721698162178185, 0.19351835812489818, 0.18821108723449953, 0.19270456079036727,
    0.19240623363586112,
  ];
  for (const [i, logWorth] of logWorths.entries()) {
    const fromFirst = (result.logWorths[i + 1] ?? Number.NaN) - (result.logWorths[0] ?? Number.NaN);
    expectAgreement(fromFirst, logWorth, { abs: 1e-14 }, 'log worth');
    expectAgreement(errorFromFirst(result, i + 1), errors[i] ?? 0, { abs: 1e-14 }, 'error');
  }
  expectAgreement(result.ties[0]?.worth, 0.7468229876542896, { abs: 1e-14 }, 'tie');
  expectAgreement(result.ties[0]?.standardError, 0.08249869172098383, { abs: 1e-14 }, 'tie error');
});
