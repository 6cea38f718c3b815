import { describe, expect, it } from 'vitest';
import { ledgerFrom } from '../../../tests/support/ledger-from.ts';
import { tastingFiles } from '../../../tests/support/tasting-ledger.ts';
import type { Ledger } from '../../model/ledger.ts';
import { type OrderSheet, orderSheets } from './order-sheets.ts';
import { cultivarOrders, pairChance, preferences } from './preferences.ts';
import { tasterAgreement } from './taster-agreement.ts';

const LEDGER = {
  'ledger.yaml': `
title: Tidewrack Lane fig trial
fruit: fig
traits: [sweetness, flavour]
tasters: { mara: Mara, joss: Joss, odo: Odo, wren: Wren }
sites: { glass: { name: glasshouse, cover: glass }, yard: { name: south wall, cover: open } }
`,
  'cultivars.yaml': `
amber: { name: Amber Lantern, bears: common }
slate: { name: Slate Quay, bears: common }
ember: { name: Stubble Ember, bears: common }
`,
  'trees.yaml': `
G1: { cultivar: amber, site: glass }
Y1: { cultivar: amber, site: yard }
Y2: { cultivar: slate, site: yard }
Y3: { cultivar: ember, site: yard }
`,
};

const PLATES = `
      - { tree: G1, crop: main, ripeness: ripe }
      - { tree: Y1, crop: main }
      - { tree: Y2, crop: main, ripeness: ripe }
      - { tree: Y3, crop: main, ripeness: over }`;

/** One sitting of all four trees. */
function sitting(rest: string, samples = PLATES): Ledger {
  const tasting = `\nseason: 2026\ntastings:\n  - on: 2026-09-12\n    samples:${samples}\n${rest}`;
  return ledgerFrom({ ...LEDGER, 'seasons/2026.yaml': tasting });
}

const trees = ({ ranks }: OrderSheet) =>
  ranks.map((rank) => rank.map(({ tree }) => tree.id).join('=')).join(' > ');

describe('order sheets', () => {
  const ledger = sitting(`
    order:
      mara: [Y3, G1, [Y1, Y2]]
      joss: [Y3, Y2]
    scores:
      mara: { Y2: { sweetness: 9 }, G1: { sweetness: 5 } }
      odo:
        G1: { sweetness: 7, flavour: 6 }
        Y1: { sweetness: 6, flavour: 7 }
        Y2: { sweetness: 8 }
      wren: { G1: { sweetness: 7 }, Y2: { flavour: 8 } }
`);

  it('take out fruit that was not ripe, and orders that are left with one plate', () => {
    expect(orderSheets(ledger, {}, 'orders').map(trees)).toEqual(['G1 > Y1=Y2']);
    const all = orderSheets(ledger, { ripeness: ['under', 'ripe', 'over'] }, 'orders');
    expect(all.map(trees)).toEqual(['Y3 > Y2', 'Y3 > G1 > Y1=Y2']);
  });

  it('keep to sites and trees that are asked for', () => {
    expect(orderSheets(ledger, { sites: ['yard'] }, 'orders').map(trees)).toEqual(['Y1=Y2']);
    expect(orderSheets(ledger, { trees: ['G1', 'Y2'] }, 'orders').map(trees)).toEqual(['G1 > Y2']);
    expect(orderSheets(ledger, { seasons: [2025] }, 'orders')).toEqual([]);
  });

  it('are read off the traits that were scored of every plate', () => {
    const told = orderSheets(ledger, {}, 'scores');
    // Odo's flavour lacks one plate, Wren has no trait in common.
    expect(told.map((sheet) => `${sheet.taster.key} ${sheet.from} ${trees(sheet)}`)).toEqual([
      'mara scores Y2 > G1',
      'odo scores Y2 > G1 > Y1',
    ]);
  });

  it('come from the order where there is one, else from scores, if both are asked for', () => {
    const told = orderSheets(ledger, {}, 'both');
    expect(told.map((sheet) => `${sheet.taster.key} ${sheet.from}`)).toEqual([
      'mara order',
      'odo scores',
    ]);
  });

  it('tie equal means, whatever binary fractions make of them', () => {
    const tied = sitting(`
    scores:
      odo: { G1: { sweetness: 7.1, flavour: 7.2 }, Y2: { sweetness: 7.3, flavour: 7.0 } }
`);
    expect(orderSheets(tied, {}, 'scores').map(trees)).toEqual(['G1=Y2']);
  });

  it('give a crop its own order where both are on the table', () => {
    const mixed = sitting(
      '    order: { mara: [Y1, e1, Y2, e2] }\n',
      `
      - { tree: Y1, crop: main }
      - { tree: Y2, crop: main }
      - { tree: G1, crop: early, as: e1 }
      - { tree: Y3, crop: early, as: e2 }`,
    );
    const told = orderSheets(mixed, {}, 'orders');
    expect(told.map((sheet) => `${sheet.crop} ${trees(sheet)}`)).toEqual([
      'early G1 > Y3',
      'main Y1 > Y2',
    ]);
  });
});

describe('orders of cultivars', () => {
  const orders = (text: string) =>
    orderSheets(sitting(`    order: { mara: ${text} }\n`), {}, 'orders').flatMap(({ ranks }) =>
      cultivarOrders(ranks),
    );

  it('are the orders of plates where each cultivar has one', () => {
    expect(orders('[Y2, Y1]')).toEqual([{ ranks: [['slate'], ['amber']], weight: 1 }]);
  });

  it('let each plate of a cultivar stand for it in turn, together one order', () => {
    expect(orders('[G1, Y2, Y1]')).toEqual([
      { ranks: [['amber'], ['slate']], weight: 0.5 },
      { ranks: [['slate'], ['amber']], weight: 0.5 },
    ]);
  });

  it('say nothing where all plates are of one cultivar', () => {
    expect(orders('[G1, Y1]')).toEqual([]);
  });
});

describe('preferences', () => {
  it('count one before and one behind as even', () => {
    const ledger = sitting('    order: { mara: [G1, Y2, Y1] }\n');
    const [found] = preferences(ledger, orderSheets(ledger, {}, 'orders'), 0.5);
    expect(found?.model.worths[0]).toBeCloseTo(0.5, 10);
    expect(found?.orders).toEqual([1, 1]);
    expect(found?.model.wins).toEqual([0.5, 0.5]);
    expect(found && pairChance(found, 0, 1, 0.95)?.chance).toBeCloseTo(0.5, 10);
  });

  it('have no error and no worth beyond bounds for one never beaten, without a prior', () => {
    const ledger = sitting('    order: { mara: [Y1, Y2], joss: [Y1, Y2] }\n');
    const [found] = preferences(ledger, orderSheets(ledger, {}, 'orders'), 0);
    expect(found?.groups).toEqual([[0], [1]]);
    expect(found?.errors).toEqual([undefined, undefined]);
    expect(found && pairChance(found, 0, 1, 0.95)).toBeUndefined();
  });

  it('do not compare two that were once tied and never placed the other way, without a prior', () => {
    const ledger = sitting('    order: { mara: [Y1, Y2], joss: [[Y1, Y2]] }\n');
    const [found] = preferences(ledger, orderSheets(ledger, {}, 'orders'), 0);
    expect(found?.groups).toEqual([[0], [1]]);
    expect(found && pairChance(found, 0, 1, 0.95)).toBeUndefined();
  });

  it('have no error where ties let worths run off without a prior', () => {
    // Amber is never placed above slate or ember, and only ties keep it from lying endlessly below.
    const orders = [
      [['slate'], ['amber'], ['bell']],
      [['ember'], ['amber']],
      [['amber', 'slate']],
      [['ember', 'amber'], ['bell']],
    ].map((ranks, at) => ({ taster: 'mara', sitting: `s${at}`, ranks }));
    const ledger = ledgerFrom(tastingFiles([], orders));
    const sheets = orderSheets(ledger, {}, 'orders');
    expect(preferences(ledger, sheets, 0)[0]?.errors).toEqual(Array(4).fill(undefined));
    expect(preferences(ledger, sheets, 0.5)[0]?.errors).not.toContain(undefined);
  });

  it('find nothing where nobody ordered two cultivars', () => {
    const ledger = sitting('    order: { mara: [Y1, G1] }\n');
    expect(preferences(ledger, orderSheets(ledger, {}, 'orders'), 0.5)).toEqual([]);
  });
});

describe('agreement of tasters', () => {
  const RIPE = `
      - { tree: G1, crop: main }
      - { tree: Y1, crop: main }
      - { tree: Y2, crop: main }
      - { tree: Y3, crop: main }`;
  const agreement = (order: string) =>
    tasterAgreement(orderSheets(sitting(`    order:\n${order}`, RIPE), {}, 'orders'));

  it('is full where three put everything in the same order', () => {
    const same = ['mara', 'joss', 'odo'].map((name) => `      ${name}: [G1, Y1, Y2, Y3]\n`);
    const [found] = agreement(same.join(''));
    expect(found).toMatchObject({ tasters: 3, samples: 4, w: 1 });
    // Each of two has 24 orders, of which one is that of the first; chi-square has 0.0293 for it.
    expect(found?.chance).toBeCloseTo(1 / 24 ** 2, 12);
  });

  it('is judged by the plates that all ordered, or by those who ordered enough', () => {
    const three =
      '      mara: [G1, Y1, Y2, Y3]\n      joss: [G1, Y1, Y2]\n      odo: [Y2, Y1, G1]\n';
    expect(agreement(three)).toMatchObject([{ tasters: 3, samples: 3 }]);
    expect(agreement(`${three}      wren: [G1, Y3]\n`)).toMatchObject([{ tasters: 3, samples: 3 }]);
  });

  it('is not told of two tasters, nor of two plates', () => {
    expect(agreement('      mara: [G1, Y1, Y2]\n      joss: [G1, Y1, Y2]\n')).toEqual([]);
    const two = ['mara', 'joss', 'odo'].map((name) => `      ${name}: [G1, Y1]\n`);
    expect(agreement(two.join(''))).toEqual([]);
  });
});
