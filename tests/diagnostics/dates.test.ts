import { describe, expect, it } from 'vitest';
import { expectMarked, pointedAt } from '../support/check-files.ts';
import { ledgerFile, ledgerWith, ledgerWithSeason, seasonText, treesAnd } from './base-ledger.ts';

describe('dates against the season', () => {
  it('questions entries of another year, wherever they stand', () => {
    const found = expectMarked(
      ledgerWithSeason(`
counts:
  - { on: 2025-07-02, tree: Y1, crop: early, fruit: 2 } # expect: entry-outside-season
picks:
  - { on: 2027-01-01, tree: Y1, crop: early, fruit: 2 } # expect: entry-outside-season
drops:
  - { on: 2025-12-31, tree: Y1, crop: early, fruit: 2 } # expect: entry-outside-season
tastings:
  - on: 2025-07-24 # expect: entry-outside-season
    samples: [{ tree: Y1, crop: early, brix: 17 }]
growth:
  - { on: 2062-03-01, tree: Y1, girth: 14 } # expect: entry-outside-season
events:
  - { on: 2025-05-10, kind: frost } # expect: entry-outside-season
`),
    );
    expect(pointedAt(found[0] ?? expect.fail())).toBe('2025-07-02');
    expect(found[0]?.advice).toContain('seasons/2025.yaml');
  });

  it('takes the first and the last day of the year', () => {
    expectMarked(
      ledgerWithSeason(`
events:
  - { on: 2026-01-01, kind: water }
  - { on: 2026-12-31, kind: water }
`),
    );
  });

  it('runs from July to June south of the equator', () => {
    const south = ledgerFile(
      'place: { name: Tidewrack Lane, latitude: 52.1 }',
      'place: { name: Tidewrack Lane, latitude: -41 }',
    ).replace('2026-10-29', '2026-05-29');
    const found = expectMarked({
      ...ledgerWithSeason(`
events:
  - { on: 2025-06-30, kind: water } # expect: entry-outside-season
  - { on: 2025-07-01, kind: water }
  - { on: 2026-06-30, kind: water }
  - { on: 2026-07-01, kind: water } # expect: entry-outside-season
`),
      'ledger.yaml': south,
    });
    expect(found.map(({ advice }) => advice.slice(-17))).toEqual([
      'seasons/2025.yaml',
      'seasons/2027.yaml',
    ]);
  });

  it('questions a first frost of another year', () => {
    expectMarked(
      ledgerWith({
        'ledger.yaml': ledgerFile(
          'frost: { 2026: 2026-10-29 }',
          `frost:
  2025: 2025-11-02
  2026: 2025-10-29 # expect: frost-outside-season`,
        ),
      }),
    );
  });
});

describe("dates against the tree's life", () => {
  it('questions entries before a tree came, by the earliest day that its date allows', () => {
    const found = expectMarked(
      ledgerWith({
        'seasons/2024.yaml': seasonText(
          `
picks:
  - { on: 2024-02-29, tree: G1, crop: main, fruit: 2 } # expect: entry-before-tree
  - { on: 2024-03-01, tree: G1, crop: main, fruit: 3 }
  - { on: 2024-05-02, tree: G2, crop: main, fruit: 4 }
tastings:
  - on: 2024-05-01
    samples:
      - { tree: G1, crop: main, brix: 17 }
      - { tree: G2, crop: main, brix: 18 } # expect: entry-before-tree
`,
          2024,
        ),
        'seasons/2022.yaml': seasonText(
          `
events:
  - { on: 2022-12-31, tree: W1, kind: prune } # expect: entry-before-tree
  - { on: 2022-12-31, tree: Y1, kind: prune }
  - { on: 2022-12-31, site: glass, kind: water }
`,
          2022,
        ),
      }),
    );
    expect(found[1]?.message).toBe(
      '2024-02-29 is before tree G1 was received (2024-03 in trees.yaml)',
    );
    expect(found[1]?.related).toHaveLength(1);
  });

  it('questions entries after a tree was removed, but not fruit that was kept', () => {
    expectMarked({
      ...ledgerWith({
        'trees.yaml': treesAnd('R1: { cultivar: amber, site: yard, removed: 2026-09 }\n'),
        'seasons/2026.yaml': seasonText(`
picks:
  - { on: 2026-09-30, tree: R1, crop: main, fruit: 2 }
  - { on: 2026-10-01, tree: R1, crop: main, fruit: 2 } # expect: entry-after-removal
tastings:
  - on: 2026-10-04
    samples: [{ tree: R1, crop: main, brix: 17 }]
`),
        'seasons/2027.yaml': seasonText(
          `
tastings:
  - on: 2027-01-04
    samples: [{ tree: R1, crop: main, brix: 17 }] # expect: entry-after-removal
`,
          2027,
        ),
      }),
    });
  });

  it('questions a life in the wrong order', () => {
    expectMarked(
      ledgerWith({
        'trees.yaml': treesAnd(`
T1: { cultivar: amber, site: yard, received: 2024-03, planted: 2024-02 } # expect: tree-dates-crossed
T2: { cultivar: amber, site: yard, planted: 2024, removed: 2023-12-31 } # expect: tree-dates-crossed
T3: { cultivar: amber, site: yard, received: 2024, removed: 2020 } # expect: tree-dates-crossed
T4: { cultivar: amber, site: yard, received: 2024-03-05, planted: 2024-03, removed: 2024 }
`),
      }),
    );
  });
});
