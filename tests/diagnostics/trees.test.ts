import { describe, expect, it } from 'vitest';
import { checkFiles, expectMarked, pointedAt } from '../support/check-files.ts';
import { runOn } from '../support/run-on.ts';
import {
  cultivarsAnd,
  ledgerFile,
  ledgerWith,
  ledgerWithSeason,
  seasonText,
  treesAnd,
} from './base-ledger.ts';

describe('crops that cannot be expected', () => {
  const SEASON = `
counts:
  - { on: 2026-07-20, tree: W1, crop: early, fruit: 12 }
  - { on: 2026-08-20, tree: W1, crop: main, fruit: 30 }
  - { on: 2026-07-20, tree: H1, crop: early, fruit: 0 }
  - { on: 2026-08-20, tree: H1, crop: main, fruit: 14 } # expect: crop-may-drop
  - { on: 2026-09-03, tree: H1, crop: main, fruit: 9 }
drops:
  - { on: 2026-09-20, tree: H1, crop: main, fruit: 8 }
  - { on: 2026-09-10, tree: H1, crop: early, fruit: 2 }
picks:
  - { on: 2026-07-25, tree: W1, crop: early, fruit: 9 }
  - { on: 2026-09-25, tree: W1, crop: main, fruit: 1 }
  - { on: 2026-09-20, tree: W1, crop: main, fruit: 2 } # expect: crop-unexpected
tastings:
  - on: 2026-07-12
    samples:
      - { tree: H1, crop: breba, brix: 12 } # expect: crop-unexpected
`;

  it('questions once what was picked or tasted, and warns of what was only counted', () => {
    const found = expectMarked(ledgerWithSeason(SEASON));
    expect(found.map(({ severity }) => severity)).toEqual(['warning', 'warning', 'warning']);
    expect(pointedAt(found[1] ?? expect.fail())).toBe('main');
    // Condit (1955), Hilgardia 23:323-538: main crop of the san-pedro type drops unpollinated.
    expect(found[1]?.message).toContain('drops without a pollinator');
  });

  it('says nothing where a pollinator is present', () => {
    expectMarked({
      ...ledgerWithSeason(SEASON.replaceAll(/ # expect.*/g, '')),
      'ledger.yaml': ledgerFile('fruit: fig', 'fruit: fig\npollinator: present'),
    });
  });

  it('holds other fruit to the crop that it is said to bear', () => {
    expectMarked({
      ...ledgerWithSeason(`
picks:
  - { on: 2026-08-25, tree: B1, crop: early, fruit: 1 } # expect: crop-unexpected
  - { on: 2026-09-25, tree: B1, crop: main, fruit: 1 }
`),
      'cultivars.yaml': cultivarsAnd('bell: { name: Cinder Bell, bears: main }\n'),
      'trees.yaml': treesAnd('B1: { cultivar: bell, site: yard }\n'),
    });
  });
});

describe('trees of which nothing is entered', () => {
  const seen = (year: number, date: string, trees: readonly string[]) => ({
    [`seasons/${year}.yaml`]: seasonText(
      `counts:\n${trees
        .map((tree) => `  - { on: ${year}-${date}, tree: ${tree}, crop: early, fruit: 1 }\n`)
        .join('')}`,
      year,
    ),
  });

  it('hints once at a tree that fell silent, in seasons that are over', () => {
    const found = expectMarked({
      ...ledgerWith({
        'trees.yaml': treesAnd(`
S1: { cultivar: amber, site: yard } # expect: tree-silent
S2: { cultivar: amber, site: yard, planted: 2023, removed: 2025-07 }
S3: { cultivar: amber, site: yard, planted: 2024-06 }
`),
      }),
      ...seen(2024, '07-01', ['G1', 'Y1', 'S1', 'S2', 'W1']),
      ...seen(2025, '07-01', ['G1', 'Y1', 'W1']),
      ...seen(2026, '07-01', ['G1']),
    });
    expect(found[0]?.message).toBe('tree S1 stood in 2025 but has no entry there');
    expect(pointedAt(found[0] ?? expect.fail())).toBe('S1');
  });

  it('takes the latest season to be over once it has entries in its last quarter', () => {
    const later = (date: string) => ({
      ...ledgerWith({}),
      ...seen(2025, '07-01', ['G1', 'Y1', 'W1']),
      ...seen(2026, date, ['G1']),
    });
    expectMarked(later('09-30'));
    const silent = checkFiles(later('10-01')).filter(({ rule }) => rule === 'tree-silent');
    expect(silent.map(pointedAt)).toEqual(['Y1', 'W1']);
  });

  it('leaves a young tree three seasons before it asks after it', () => {
    const files = {
      ...ledgerWith({
        'trees.yaml': `
G1: { cultivar: amber, site: glass }
N1: { cultivar: amber, site: glass, planted: 2022-11 } # expect: tree-silent
N2: { cultivar: widow, site: glass, planted: 2023-03 }
H1: { cultivar: heron, site: glass }
`,
      }),
      ...seen(2023, '07-01', ['G1']),
      ...seen(2024, '07-01', ['G1']),
      ...seen(2025, '07-01', ['G1']),
      ...seen(2026, '07-01', ['G1']),
    };
    const found = expectMarked(files);
    expect(found[0]?.message).toContain('2023, 2024 and 2025');
  });

  it('knows nothing of a season that could not be read whole', () => {
    const found = checkFiles({
      ...ledgerWith({}),
      ...seen(2025, '07-01', ['G1', 'Y1', 'W1']),
      ...seen(2026, '10-01', ['G1']),
      'seasons/2027.yaml': seasonText(`counts: [{ on: 2027-07-01, tree: G1 }]\n`, 2027),
    });
    expect(found.map(({ rule }) => rule)).toContain('key-missing');
    const silent = found.filter(({ rule }) => rule === 'tree-silent');
    expect(silent.map(({ message }) => message)).toEqual([
      'tree Y1 stood in 2026 but has no entry there',
      'tree W1 stood in 2026 but has no entry there',
    ]);
  });
});

describe('moves', () => {
  it('hints at a move to where the tree already stands', () => {
    expectMarked(
      ledgerWithSeason(`
events:
  - { on: 2026-05-10, tree: G1, kind: move, site: yard }
  - { on: 2026-05-20, tree: G1, kind: move, site: yard } # expect: move-nowhere
  - { on: 2026-10-10, tree: G1, kind: move, site: glass }
  - { on: 2026-10-10, tree: Y1, kind: move, site: yard } # expect: move-nowhere
`),
    );
  });
});

describe('waiting after a spray', () => {
  it('refuses fruit until the last waiting day is over', () => {
    const found = expectMarked(
      ledgerWithSeason(`
events:
  - { on: 2026-07-10, site: glass, kind: spray, product: soap, wait_days: 3 }
picks:
  - { on: 2026-07-09, tree: G1, crop: early, fruit: 1 }
  - { on: 2026-07-10, tree: G1, crop: early, fruit: 2 } # expect: spray-same-day
  - { on: 2026-07-12, tree: G1, crop: early, fruit: 3 } # expect: spray-wait
  - { on: 2026-07-13, tree: G1, crop: early, fruit: 4 }
  - { on: 2026-07-12, tree: Y1, crop: early, fruit: 5 }
  - { on: 2026-07-12, tree: G2, crop: early, fruit: 0 }
tastings:
  - on: 2026-07-11
    samples:
      - { tree: G2, crop: early, brix: 15 } # expect: spray-wait
      - { tree: Y1, crop: early, brix: 15 }
`),
    );
    expect(found.map(({ severity }) => severity).sort()).toEqual(['error', 'error', 'warning']);
    const refused = found.find(({ severity }) => severity === 'error');
    expect(refused?.message).toContain('first safe date 2026-07-13');
    expect(refused?.advice).toContain('the label and local rules come first');
  });

  it('follows the tree and not the site, over the turn of the year', () => {
    expectMarked({
      ...ledgerWithSeason(`
events:
  - { on: 2026-07-01, tree: G2, kind: spray, product: soap, wait_days: 2 }
  - { on: 2026-07-01, site: glass, kind: spray, product: oil, wait_days: 14 }
  - { on: 2026-07-02, tree: G1, kind: move, site: yard }
  - { on: 2026-07-02, tree: Y1, kind: move, site: glass }
  - { on: 2026-12-30, site: all, kind: spray, product: copper, wait_days: 7 }
picks:
  - { on: 2026-07-10, tree: G1, crop: early, fruit: 2 } # expect: spray-wait
  - { on: 2026-07-10, tree: G2, crop: early, fruit: 2 } # expect: spray-wait
  - { on: 2026-07-10, tree: Y1, crop: early, fruit: 2 }
`),
      'seasons/2027.yaml': seasonText(
        `
picks:
  - { on: 2027-01-05, tree: Y1, crop: main, fruit: 2 } # expect: spray-wait
  - { on: 2027-01-06, tree: Y1, crop: main, fruit: 3 }
`,
        2027,
      ),
      'trees.yaml': treesAnd('').replaceAll(/^(?:W1|H1).*\n/gm, ''),
      'cultivars.yaml': 'amber: { name: Amber Lantern, bears: common }\n',
    });
  });

  it('asks which came first on one day, unless the spray says that the picks did', () => {
    const [asked] = expectMarked(
      ledgerWithSeason(`
events:
  - { on: 2026-07-08, site: glass, kind: spray, product: oil, wait_days: 2 }
  - { on: 2026-07-10, site: glass, kind: spray, product: soap, wait_days: 3 }
  - { on: 2026-07-20, site: yard, kind: spray, product: soap, wait_days: 3, after: picks }
picks:
  - { on: 2026-07-10, tree: G1, crop: early, fruit: 2 } # expect: spray-same-day
  - { on: 2026-07-20, tree: Y1, crop: early, fruit: 2 }
  - { on: 2026-07-22, tree: Y1, crop: early, fruit: 2 } # expect: spray-wait
`),
    );
    expect(asked?.severity).toBe('warning');
    expect(asked?.advice).toContain('after: picks');
    expect(asked?.advice).toContain('do not eat it (first safe date 2026-07-13)');
  });

  it('lets no day of another spray pass because one was after the picks', () => {
    expectMarked(
      ledgerWithSeason(`
events:
  - { on: 2026-07-09, site: glass, kind: spray, product: oil, wait_days: 2 }
  - { on: 2026-07-10, site: glass, kind: spray, product: soap, wait_days: 30, after: picks }
picks:
  - { on: 2026-07-10, tree: G1, crop: early, fruit: 2 } # expect: spray-wait
`),
    );
  });

  it('keeps the time for every tree where a spray names none, and asks what was meant', () => {
    expectMarked(
      ledgerWithSeason(`
events:
  - { on: 2026-07-10, kind: spray, product: soap, wait_days: 3 } # expect: spray-nowhere
  - { on: 2026-07-20, site: all, kind: spray, product: soap, wait_days: 3 }
picks:
  - { on: 2026-07-12, tree: G1, crop: early, fruit: 2 } # expect: spray-wait
  - { on: 2026-07-12, tree: Y1, crop: early, fruit: 2 } # expect: spray-wait
  - { on: 2026-07-22, tree: Y1, crop: early, fruit: 2 } # expect: spray-wait
`),
    );
  });

  it('needs no waiting where the label asks for none', () => {
    expectMarked(
      ledgerWithSeason(`
events:
  - { on: 2026-07-10, site: all, kind: spray, product: soap, wait_days: 0 }
picks:
  - { on: 2026-07-10, tree: G1, crop: early, fruit: 2 }
`),
    );
  });
});

describe('a cultivar that bears nobody knows what', () => {
  it.each(['absent', 'present'])(
    'is expected to bear nothing, and may bear both: %s',
    async (there) => {
      const files = ledgerWith({
        'ledger.yaml': ledgerFile('fruit: fig', `fruit: fig\npollinator: ${there}`),
        'cultivars.yaml': cultivarsAnd('').replace('bears: san-pedro', 'bears: unknown'),
        'seasons/2026.yaml': seasonText(`counts:
  - { on: 2026-07-02, tree: W1, crop: early, fruit: 9 }
  - { on: 2026-08-20, tree: W1, crop: main, fruit: 4 }
picks:
  - { on: 2026-09-20, tree: W1, crop: main, fruit: 2 }
`),
      });
      expect(checkFiles(files).filter(({ rule }) => rule.startsWith('crop-'))).toEqual([]);
      expect(checkFiles(files).filter(({ severity }) => severity === 'error')).toEqual([]);
      expect((await runOn(['card', 'widow'], files)).out).toMatch(/^ *Bears +not known$/m);
    },
  );
});
