import { describe, expect, it } from 'vitest';
import { expectMarked, pointedAt } from '../support/check-files.ts';
import { ledgerFile, ledgerWithSeason } from './base-ledger.ts';

const SAMPLES = `
    samples:
      - { tree: G1, crop: early }
      - { tree: G2, crop: early }
      - { tree: Y1, crop: early }`;

describe('score sheets', () => {
  it('questions a sheet without a trait that others have at the sitting', () => {
    const found = expectMarked(
      ledgerWithSeason(`
tastings:
  - on: 2026-07-24${SAMPLES}
    scores:
      mara:
        G1: { sweetness: 8, flavour: 9 }
        G2: { flavour: 6 } # expect: sheet-half-filled
      joss:
        G1: { flavour: 9, sweetness: 7 }
`),
    );
    expect(found[0]?.message).toBe('Mara scored flavour of G2 but not sweetness');
    expect(pointedAt(found[0] ?? expect.fail())).toBe('G2');
  });

  it('does not miss a trait that nobody scored, nor a sample that somebody left', () => {
    expectMarked(
      ledgerWithSeason(`
tastings:
  - on: 2026-07-24${SAMPLES}
    scores:
      mara: { G1: { flavour: 9 }, G2: { flavour: 7 } }
      joss: { Y1: { flavour: 9 } }
  - on: 2026-07-25${SAMPLES}
    scores:
      mara: { G1: { sweetness: 9, texture: 5 } }
`),
    );
  });
});

describe('words of taste', () => {
  it('that the ledger does not list bring a hint, unless it lists none', () => {
    const season = ledgerWithSeason(`
tastings:
  - on: 2026-07-24${SAMPLES}
    words:
      mara: { G1: [Melon, wild honey] }
      joss: { G1: [wild  Honey, mellon] } # expect: word-unlisted
`);
    const found = expectMarked({
      ...season,
      'ledger.yaml': ledgerFile(
        'traits: [sweetness, flavour, texture]',
        'traits: [sweetness, flavour, texture]\nwords: [melon, wild honey]',
      ),
    });
    expect(found[0]?.message).toBe('mellon is not among the words of ledger.yaml');
    expect(found[0]?.advice).toBe('did you mean melon? If not, add it to words in ledger.yaml');
    expect(pointedAt(found[0] ?? expect.fail())).toBe('mellon');
    expectMarked({
      ...season,
      'seasons/2026.yaml': (season['seasons/2026.yaml'] ?? '').replace(/ #.*/, ''),
    });
  });
});

describe('orders and scores of one taster', () => {
  it('hints at an order more than a point against the scores', () => {
    const found = expectMarked(
      ledgerWithSeason(`
tastings:
  - on: 2026-07-24${SAMPLES}
    scores:
      mara: { G1: { sweetness: 4, flavour: 5 }, G2: { sweetness: 6, flavour: 7 }, Y1: { sweetness: 8, flavour: 9 } }
      joss: { G1: { sweetness: 4, flavour: 5 }, G2: { sweetness: 5, flavour: 6 }, Y1: { sweetness: 8, flavour: 9 } }
    order:
      mara: [G1, G2, Y1] # expect: order-against-scores
      joss: [Y1, G1, G2]
`),
    );
    expect(found[0]?.message).toBe('Mara puts G1 before Y1, but scored them 4.5 and 8.5');
  });

  it('finds no contradiction in a tie, in traits not shared, nor in what was not scored', () => {
    expectMarked(
      ledgerWithSeason(`
tastings:
  - on: 2026-07-24${SAMPLES}
    scores:
      mara: { G1: { flavour: 2 }, G2: { flavour: 9 } }
    order:
      mara: [[G1, G2], Y1]
      joss: [Y1, G1, G2]
`),
    );
  });

  it("measures the point on the ledger's own scale", () => {
    expectMarked({
      ...ledgerWithSeason(`
tastings:
  - on: 2026-07-24${SAMPLES}
    scores:
      mara: { G1: { flavour: 50 }, G2: { flavour: 59 } }
      joss: { G1: { flavour: 50 }, G2: { flavour: 61 } }
    order:
      mara: [G1, G2]
      joss: [G1, G2] # expect: order-against-scores
`),
      'ledger.yaml': ledgerFile('fruit: fig', 'fruit: fig\nscale: { low: 10, high: 100 }').replace(
        '[[0, 1], [4, 10]]',
        '[[0, 10], [4, 100]]',
      ),
    });
  });
});

describe('sittings', () => {
  it('hints at samples of which nothing was written down', () => {
    expectMarked(
      ledgerWithSeason(`
tastings:
  - on: 2026-07-24 # expect: tasting-empty
    samples: [{ tree: G1, crop: early, ripeness: ripe }, { tree: Y1, crop: early }]
  - on: 2026-07-25
    samples: [{ tree: G1, crop: early, brix: 17.5 }]
  - on: 2026-07-26
    samples: [{ tree: G1, crop: early, eye: 3 }]
  - on: 2026-07-27
    samples: [{ tree: G1, crop: early }, { tree: Y1, crop: early }]
    order: { mara: [G1, Y1] }
`),
    );
  });

  it('questions millimetres that were typed where bare numbers are inches', () => {
    const files = ledgerWithSeason(`
tastings:
  - on: 2026-07-24
    samples:
      - { tree: G1, crop: early, eye: 3 } # expect: eye-unlikely
      - { tree: G2, crop: early, eye: "3 mm" }
      - { tree: Y1, crop: early, eye: 0.1 }
    order: { mara: [G1, G2, Y1] }
`);
    const imperial = ledgerFile('fruit: fig', 'fruit: fig\nunits: imperial');
    expectMarked({ ...files, 'ledger.yaml': imperial });
  });
});
