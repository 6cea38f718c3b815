import { describe, expect, it } from 'vitest';
import { parseIsoDate } from '../../model/dates.ts';
import type { Crop, Ledger } from '../../model/ledger.ts';
import { readLedger } from '../../reading/read-ledger.ts';
import { ripeAbout } from './ripe-about.ts';

const START = {
  'ledger.yaml': `title: Tidewrack Lane fig trial
fruit: fig
traits: [flavour]
sites: { glass: { name: glasshouse, cover: glass }, yard: { name: south wall, cover: open } }
`,
  'cultivars.yaml': `amber: { name: Amber Lantern, bears: common }
slate: { name: Slate Quay, bears: common }
`,
  'trees.yaml': `A1: { cultivar: amber, site: glass }
A2: { cultivar: amber, site: yard }
S1: { cultivar: slate, site: yard }
S2: { cultivar: slate, site: yard, removed: 2026-02 }
`,
};

function ledgerOf(files: Readonly<Record<string, string>>): Ledger {
  const raw = Object.entries({ ...START, ...files }).map(([path, text]) => {
    const bytes = new TextEncoder().encode(text);
    return { path, bytes, size: bytes.length };
  });
  const { ledger, diagnostics } = readLedger(raw);
  expect(diagnostics).toEqual([]);
  if (ledger === undefined) throw new Error('no ledger');
  return ledger;
}

function about(ledger: Ledger, on: string, told?: readonly string[], crop: Crop = 'main') {
  const date = parseIsoDate(on);
  if (date === undefined) throw new Error(`${on} is no date`);
  const { ripe, leftOut } = ripeAbout(ledger, crop, date, told);
  return {
    ripe: ripe.map(({ tree, sign, fruitLeft }) => ({ tree: tree.id, sign: sign.kind, fruitLeft })),
    leftOut: leftOut.map(({ tree, why }) => `${tree.id} ${why.kind}`),
  };
}

const season = (lines: string, year = 2026) => ({
  [`seasons/${year}.yaml`]: `season: ${year}\n${lines}`,
});

describe('ripeAbout', () => {
  it('goes by picks of the last ten days, and takes the tree with most fruit left', () => {
    const ledger = ledgerOf(
      season(`counts:
  - { on: 2026-08-01, tree: A1, crop: main, fruit: 9 }
  - { on: 2026-08-01, tree: A2, crop: main, fruit: 20 }
drops:
  - { on: 2026-08-10, tree: A2, crop: main, fruit: 3 }
picks:
  - { on: 2026-08-20, tree: A1, crop: main, fruit: 2 }
  - { on: 2026-08-20, tree: A2, crop: main, fruit: 4 }
  - { on: 2026-09-05, tree: A2, crop: main, fruit: 6 }
`),
    );
    // What is written down for later is not known yet: 20 - 3 - 4.
    expect(about(ledger, '2026-08-30').ripe).toEqual([
      { tree: 'A2', sign: 'picked', fruitLeft: 13 },
    ]);
    expect(about(ledger, '2026-08-31').ripe).toEqual([]);
    expect(about(ledger, '2026-08-30', undefined, 'early').ripe).toEqual([]);
  });

  it('else goes by the picking time of at least half the past seasons', () => {
    const picks = (year: number, days: readonly string[]) =>
      season(
        `picks:\n${days.map((day) => `  - { on: ${year}-${day}, tree: S1, crop: main, fruit: 2 }`).join('\n')}\n`,
        year,
      );
    const ledger = ledgerOf({
      ...picks(2023, ['08-20', '08-30']),
      ...picks(2024, ['08-20', '08-30']),
      ...picks(2025, ['09-10', '09-20']),
    });
    const signs = (on: string) => about(ledger, on).ripe.map(({ sign }) => sign);
    expect(signs('2026-08-14')).toEqual([]);
    expect(signs('2026-08-15')).toEqual(['calendar']);
    expect(signs('2026-09-04')).toEqual(['calendar']);
    // 2025 alone is one season of three.
    expect(signs('2026-09-15')).toEqual([]);
    // In 2025 itself two seasons are past.
    expect(about(ledger, '2025-08-25').ripe).toHaveLength(1);
  });

  it('leaves out a tree in the waiting days of a spray, even one that was asked for', () => {
    const sprayed = (what: string) =>
      ledgerOf(
        season(`picks:
  - { on: 2026-08-18, tree: A1, crop: main, fruit: 2 }
  - { on: 2026-08-18, tree: S1, crop: main, fruit: 2 }
events:
  - { on: 2026-08-20, ${what}kind: spray, product: soap, wait_days: 4 }
`),
      );
    expect(about(sprayed('tree: A1, '), '2026-08-23')).toEqual({
      ripe: [{ tree: 'S1', sign: 'picked', fruitLeft: undefined }],
      leftOut: ['A1 spray'],
    });
    // Four days later the fruit is clear.
    expect(about(sprayed('tree: A1, '), '2026-08-24').leftOut).toEqual([]);
    expect(about(sprayed('site: yard, '), '2026-08-20').leftOut).toEqual(['S1 spray']);
    expect(about(sprayed(''), '2026-08-21').leftOut).toEqual(['A1 spray', 'S1 spray']);
    const told = about(sprayed('site: glass, '), '2026-08-21', ['amber']);
    expect(told).toEqual({
      ripe: [{ tree: 'A2', sign: 'told', fruitLeft: undefined }],
      leftOut: ['A1 spray'],
    });
  });

  it('takes nothing from an empty tree or one that was taken out', () => {
    const ledger = ledgerOf(
      season(`counts:
  - { on: 2026-08-01, tree: A1, crop: main, fruit: 5 }
picks:
  - { on: 2026-08-20, tree: A1, crop: main, fruit: 5 }
`),
    );
    expect(about(ledger, '2026-08-21', ['amber', 'slate'])).toEqual({
      ripe: [
        { tree: 'A2', sign: 'told', fruitLeft: undefined },
        { tree: 'S1', sign: 'told', fruitLeft: undefined },
      ],
      leftOut: ['A1 empty'],
    });
  });

  it('does not take fruit that came off unripe for ripe', () => {
    const ledger = ledgerOf(
      season('picks:\n  - { on: 2026-08-20, tree: A1, crop: main, fruit: 2, unripe: 2 }\n'),
    );
    expect(about(ledger, '2026-08-21').ripe).toEqual([]);
  });
});
