import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { run } from '../src/cli/run.ts';
import type { Files } from './support/check-files.ts';
import { memoryHost } from './support/memory-host.ts';
import { noteText, runJson } from './support/run-json.ts';
import { type OrderRow, type ScoreRow, tastingFiles } from './support/tasting-ledger.ts';

const FILES = {
  'ledger.yaml': `
title: Tidewrack Lane fig trial
fruit: fig
crops: { early: breba, main: main }
traits: [sweetness, flavour]
tasters: { mara: Mara, joss: Joss, odo: Odo }
sites: { glass: { name: glasshouse, cover: glass }, yard: { name: south wall, cover: open } }
`,
  'cultivars.yaml': `
amber: { name: Amber Lantern, bears: common, also: [Lantern Yellow] }
slate: { name: Slate Quay, bears: common, perhaps: { same_as: amber, why: leaf } }
ember: { name: Stubble Ember, bears: common }
bell: { name: Ferry Bell, bears: common }
`,
  'trees.yaml': `
G1: { cultivar: amber, site: glass }
G2: { cultivar: amber, site: glass }
Y1: { cultivar: slate, site: yard }
Y2: { cultivar: slate, site: yard }
Y3: { cultivar: ember, site: yard }
Y4: { cultivar: bell, site: yard }
`,
  'seasons/2025.yaml': `
season: 2025
counts:
  - { on: 2025-08-01, tree: G1, crop: main, fruit: 24, branches: 8 }
  - { on: 2025-08-01, tree: G2, crop: main, fruit: 30, branches: 12 }
  - { on: 2025-08-01, tree: Y1, crop: main, fruit: 5, branches: 10 }
  - { on: 2025-08-01, tree: Y2, crop: main, fruit: 6, branches: 10 }
  - { on: 2025-08-01, tree: Y3, crop: main, fruit: 6, branches: 10 }
picks:
  - { on: 2025-09-01, tree: G1, crop: main, fruit: 10, weight: 400, split: 1 }
  - { on: 2025-09-02, tree: G2, crop: main, fruit: 10, weight: 420 }
  - { on: 2025-09-15, tree: Y1, crop: main, fruit: 4, weight: 200, split: 2 }
  - { on: 2025-09-15, tree: Y2, crop: main, fruit: 6, weight: 310, bird: 3 }
  - { on: 2025-09-18, tree: Y3, crop: main, fruit: 5, weight: 200 }
`,
  'seasons/2026.yaml': `
season: 2026
tastings:
  - on: 2026-07-20
    samples:
      - { tree: G1, crop: early, ripeness: ripe }
      - { tree: Y1, crop: main, ripeness: ripe }
      - { tree: G2, crop: main, ripeness: under }
    scores:
      mara: { G1: { flavour: 8 }, Y1: { flavour: 6 }, G2: { flavour: 3 } }
  - on: 2026-09-12
    samples:
      - { tree: G1, crop: main, ripeness: ripe }
      - { tree: Y1, crop: main }
      - { tree: Y3, crop: main, ripeness: ripe }
    scores:
      mara:
        G1: { sweetness: 8, flavour: 9 }
        Y1: { sweetness: 6, flavour: 7 }
        Y3: { sweetness: 7, flavour: 6.5 }
      joss:
        G1: { sweetness: 7, flavour: 8.5 }
        Y1: { sweetness: 6.5, flavour: 6 }
        Y3: { sweetness: 7.5, flavour: 6 }
      odo:
        G1: { sweetness: 5, flavour: 6.5 }
        Y1: { sweetness: 3, flavour: 4.5 }
        Y3: { sweetness: 5, flavour: 4 }
    order:
      mara: [G1, [Y1, Y3]]
      joss: [G1, Y1, Y3]
      odo: [G1, Y3, Y1]
`,
};

const COMMANDS: readonly (readonly string[])[] = [
  ['scores'],
  ['scores', '--explain', '--by', 'tree'],
  ['preference'],
  ['preference', '--explain', '--from', 'both', '--prior', '0'],
  ['compare', 'amber', 'Slate Quay'],
  ['compare', 'amber', 'ember', '--explain', '--crop', 'main'],
];

async function typed(files: Files, argv: readonly string[], columns = 80) {
  const world = memoryHost({ files, columns });
  const exit = await run(argv, world.host);
  return { exit, out: world.out(), err: world.err() };
}

describe.each(COMMANDS.map((words) => ({ words, typed: words.join(' ') })))(
  '$typed',
  ({ words }) => {
    it('prints a table that keeps to the width', async () => {
      const { exit, out, err } = await typed(FILES, words);
      expect({ exit, err }).toEqual({ exit: 0, err: '' });
      expect(out).not.toMatch(/NaN|Infinity|undefined|null|\[object/);
      for (const line of out.split('\n')) expect(line.length).toBeLessThanOrEqual(80);
    });

    it('prints JSON with every column in every row', async () => {
      const { rows, columns } = await runJson(FILES, ...words);
      expect(rows.length).toBeGreaterThan(0);
      const keys = columns.map(({ key }) => key).sort();
      for (const row of rows) expect(Object.keys(row).sort()).toEqual(keys);
    });

    it('prints the same in the other forms', async () => {
      for (const format of ['markdown', 'html', 'csv']) {
        expect((await typed(FILES, [...words, '--format', format])).exit).toBe(0);
      }
    });
  },
);

describe('scores', () => {
  it('have the columns that scripts rest on', async () => {
    const { columns } = await runJson(FILES, 'scores');
    expect(columns.map(({ key }) => key)).toEqual(
      'cultivar crop trait group mean se low high raw samples tasters letters'.split(' '),
    );
  });

  it('stand by crop, by trait in the order of the ledger, then the highest first', async () => {
    const { rows } = await runJson(FILES, 'scores', '--crop', 'main');
    expect(rows.map(({ trait, cultivar }) => `${trait} ${cultivar}`)).toEqual([
      'sweetness Amber Lantern',
      'sweetness Stubble Ember',
      'sweetness Slate Quay',
      'flavour Amber Lantern',
      'flavour Slate Quay',
      'flavour Stubble Ember',
    ]);
  });

  it('count plates without a word on ripeness as ripe, and say what is left out', async () => {
    const ripe = await runJson(FILES, 'scores', '--crop', 'main', '--trait', 'flavour');
    expect(noteText(ripe)).toContain('Fruit tasted ripe; 1 other plate is left out');
    expect(noteText(ripe)).toContain('1 plate does not say how ripe, and counts as ripe');
    const under = await runJson(FILES, 'scores', '--ripeness', 'under');
    expect(under.rows).toMatchObject([{ cultivar: 'Amber Lantern', raw: 3, samples: 1 }]);
  });

  it('say where both crops were on the table, and which names are in doubt', async () => {
    const text = noteText(await runJson(FILES, 'scores'));
    expect(text).toContain('Both crops were on the table on 2026-07-20');
    expect(text).toContain('Slate Quay (perhaps Amber Lantern)');
    expect(text).toContain('pomary rank allows for it');
  });

  it('show the cultivars asked for with the figures that they have among all', async () => {
    const asked = ['scores', '--crop', 'main', '--unit', 'score'];
    const all = await runJson(FILES, ...asked);
    const one = await runJson(FILES, ...asked, '--cultivar', 'Lantern Yellow');
    const own = all.rows.filter(({ cultivar }) => cultivar === 'Amber Lantern');
    const figures = ({ mean, se, low, high }: (typeof own)[number]) => [mean, se, low, high];
    expect(one.rows.map(figures)).toEqual(own.map(figures));
    expect(one.rows.map(({ letters }) => letters)).toEqual(['a', 'a']);
  });

  it('count --top within a crop and trait', async () => {
    const { rows, notes } = await runJson(FILES, 'scores', '--top', '1', '--crop', 'main');
    expect(rows.map(({ cultivar }) => cultivar)).toEqual(['Amber Lantern', 'Amber Lantern']);
    expect(notes.map(({ text }) => text)).toContain(
      'The first row of each crop and trait is shown; 4 rows left out.',
    );
  });

  it('say in which traits cultivars differ at all, and the analysis behind it if asked', async () => {
    // Two tasters, two sittings, two cultivars; flavour worked by hand: F 6.125 / 0.1875 = 32.7 on 1
    // and 4, p 0.005. Texture: cultivars both 6, F 0.
    const flavour = { amber: [8, 7, 6, 6.5], slate: [6, 5.5, 5, 4] };
    const texture = { amber: [7, 6, 6, 5], slate: [6, 6, 5, 7] };
    const rows = Object.entries({ flavour, texture }).flatMap(([trait, own]) =>
      Object.entries(own).flatMap(([cultivar, values]) =>
        values.map((value, at): ScoreRow => {
          const taster = at % 2 === 0 ? 'mara' : 'joss';
          return { taster, sitting: at < 2 ? 'one' : 'two', cultivar, value, trait };
        }),
      ),
    );
    const brief = noteText(await runJson(tastingFiles(rows), 'scores', '--unit', 'score'));
    expect(brief).toContain(
      'Main crop: cultivars differ beyond chance in flavour (F 32.7, p 0.005); in texture (F 0.0, p 1.00) they may not.',
    );
    expect(brief).not.toContain('mean square');
    const long = noteText(
      await runJson(tastingFiles(rows), 'scores', '--unit', 'score', '--explain'),
    );
    expect(long).toContain(
      'Analysis of variance, main crop, flavour: sittings 1 df, mean square 3.13, F 16.7, p 0.015; tasters 1 df, mean square 0.50, F 2.7, p 0.18; cultivars 1 df, mean square 6.13, F 32.7, p 0.005; rest 4 df, mean square 0.19. LSD at 5 %: 0.85.',
    );
    expect(long).toContain('the letters are the safer guide');
  });

  it('refuse a trait that the ledger does not have', async () => {
    const { exit, err } = await typed(FILES, ['scores', '--trait', 'flavor']);
    expect({ exit, err }).toEqual({
      exit: 2,
      err: 'pomary: --trait flavor: no such trait; did you mean flavour?\n',
    });
    expect((await typed(FILES, ['scores', '--ripeness', 'green'])).exit).toBe(2);
    expect((await typed(FILES, ['scores', '--by', 'site'])).exit).toBe(2);
  });

  it('say so where nothing was tasted', async () => {
    const { 'seasons/2026.yaml': _, ...untasted } = FILES;
    const { rows, notes } = await runJson(untasted, 'scores');
    expect(rows).toEqual([]);
    expect(notes).toHaveLength(1);
    expect(noteText(await runJson(FILES, 'scores', '--season', '2025'))).toBe(
      'No scores in this selection.',
    );
  });
});

describe('preference', () => {
  it('has the columns that scripts rest on', async () => {
    const { columns } = await runJson(FILES, 'preference');
    expect(columns.map(({ key }) => key)).toEqual(
      'cultivar crop group before beforeLow beforeHigh worth logWorth se low high orders wins'.split(
        ' ',
      ),
    );
  });

  it('puts first what every taster put first, and says how tasters agreed', async () => {
    const report = await runJson(FILES, 'preference');
    expect(report.rows[0]).toMatchObject({ cultivar: 'Amber Lantern', orders: 3, wins: 6 });
    const worths = report.rows.map(({ worth }) => Number(worth));
    expect(worths.reduce((sum, worth) => sum + worth, 0)).toBeCloseTo(1, 12);
    // Rank sums 3, 7.5, 7.5; ties take W from 0.75 to 27 / 34 = 0.82 (Kendall & Gibbons 1990).
    expect(noteText(report)).toContain('On 12 September 2026 (main crop) 3 tasters of 3 plates');
    expect(noteText(report)).toContain('1 of them with ties');
  });

  it('refuses a prior below 0 and a source it does not know', async () => {
    expect((await typed(FILES, ['preference', '--prior', '-1'])).exit).toBe(2);
    expect((await typed(FILES, ['preference', '--from', 'hearsay'])).exit).toBe(2);
  });
});

describe('compare', () => {
  const comparing = async (...argv: readonly string[]) => {
    const report = await runJson(FILES, 'compare', ...argv);
    const of = (part: string) => report.rows.find((row) => row['part'] === part);
    return { report, of };
  };

  it('has the columns that scripts rest on', async () => {
    const { report } = await comparing('amber', 'slate');
    expect(report.columns.map(({ key }) => key)).toEqual(
      'part crop unit a b difference low high verdict'.split(' '),
    );
  });

  it('tells each part with its figures', async () => {
    const { of, report } = await comparing('amber', 'slate');
    for (const part of ['flavour', 'sweetness', 'productivity', 'size', 'soundness']) {
      const { a, b, difference, low, high } = of(part) ?? {};
      expect(Number(a) - Number(b)).toBeCloseTo(Number(difference), 9);
      expect(Number(low)).toBeLessThan(Number(difference));
      expect(Number(high)).toBeGreaterThan(Number(difference));
    }
    // 2.7 fruit a branch against 0.55, but each at a site of its own that nothing joins.
    expect(of('productivity')?.['verdict']).toBe('not separable');
    expect(of('size')?.['unit']).toBe('g');
    expect(Number(of('soundness')?.['a'])).toBeGreaterThan(50);
    expect(of('ripening')).toMatchObject({ a: '1 Sep', b: '15 Sep', verdict: 'no interval' });
    expect(of('preference')?.['verdict']).toBe('not separable');
    expect(report.notes[0]?.text).toContain(
      'No verdict on ripening: picked in one season together.',
    );
    expect(noteText(report)).toContain('never stood at the same site');
    expect(noteText(report)).toContain('no cultivar joins these sites');
  });

  it('turned round says the same', async () => {
    const { report: one } = await comparing('amber', 'slate');
    const { report: other } = await comparing('slate', 'amber');
    for (const [at, { difference, low, high, verdict }] of one.rows.entries()) {
      const turned = other.rows[at];
      expect(turned?.['verdict']).toBe(verdict);
      const pairs = [
        [difference, turned?.['difference']],
        [low, turned?.['high']],
        [high, turned?.['low']],
      ];
      for (const [ours, theirs] of pairs) {
        if (ours === null) expect(theirs).toBeNull();
        else expect(Number(theirs)).toBeCloseTo(-Number(ours), 9);
      }
    }
  });

  it('has an interval for a cultivar of one tree, and of a trait without weight', async () => {
    const { of } = await comparing('slate', 'ember');
    for (const part of ['productivity', 'size', 'sweetness']) {
      const { low, high } = of(part) ?? {};
      expect(Number(high) - Number(low), part).toBeGreaterThan(0.1);
    }
  });

  it('has nothing to say of one that was never seen', async () => {
    const { report } = await comparing('amber', 'bell');
    expect(report.rows).toEqual([]);
    expect(noteText(report)).toContain('no part in which both Amber Lantern and Ferry Bell');
  });

  it('wants two cultivars', async () => {
    expect((await typed(FILES, ['compare', 'amber', 'Lantern Yellow'])).err).toBe(
      'pomary: amber and Lantern Yellow are the same cultivar; name two\n',
    );
    for (const argv of [['amber'], ['amber', 'nobody'], ['amber', 'slate', '--cultivar', 'bell']]) {
      expect((await typed(FILES, ['compare', ...argv])).exit).toBe(2);
    }
  });
});

describe('figures of what was tasted', () => {
  const names = ['amber', 'slate', 'ember', 'bell'];
  const score = fc.record({
    taster: fc.constantFrom('mara', 'joss', 'odo'),
    sitting: fc.constantFrom('one', 'two', 'three'),
    cultivar: fc.constantFrom(...names),
    trait: fc.constantFrom('sweetness', 'flavour'),
    value: fc.integer({ min: 2, max: 20 }).map((half) => half / 2),
  });
  const order = fc.record({
    sitting: fc.constantFrom('one', 'two', 'three'),
    taster: fc.constantFrom('mara', 'joss', 'odo'),
    ranks: fc
      .shuffledSubarray(names, { minLength: 1 })
      .chain((own) =>
        fc
          .boolean()
          .map((tie) =>
            tie ? [own.slice(0, 2), ...own.slice(2).map((one) => [one])] : own.map((one) => [one]),
          ),
      ),
  });

  /** A taster scores a plate once a trait and gives one order at a sitting. */
  function once<Row extends ScoreRow | OrderRow>(rows: readonly Row[], key: (row: Row) => string) {
    return [...new Map(rows.map((row) => [key(row), row])).values()];
  }
  const ledgers = fc.record({
    scores: fc
      .array(score, { minLength: 1, maxLength: 30 })
      .map((rows) =>
        once(rows, (one) => `${one.taster} ${one.sitting} ${one.cultivar} ${one.trait}`),
      ),
    orders: fc
      .array(order, { maxLength: 8 })
      .map((rows) => once(rows, (one) => `${one.taster} ${one.sitting}`)),
  });

  it('are finite or blank whatever was tasted', async () => {
    await fc.assert(
      fc.asyncProperty(ledgers, async ({ scores, orders }) => {
        const files = tastingFiles(scores, orders);
        await runJson(files, 'scores');
        await runJson(files, 'preference', '--from', 'both', '--prior', '0');
        await runJson(files, 'preference', '--from', 'scores');
        const [a, b] = Object.keys(JSON.parse(files['cultivars.yaml'] ?? '{}'));
        if (b !== undefined) await runJson(files, 'compare', a ?? '', b);
      }),
      { numRuns: 60 },
    );
  });

  it('do not hang on the order of the files', async () => {
    const byName = (rows: Awaited<ReturnType<typeof runJson>>['rows']) =>
      rows.toSorted((a, b) =>
        `${a['trait']} ${a['cultivar']}` < `${b['trait']} ${b['cultivar']}` ? -1 : 1,
      );
    await fc.assert(
      fc.asyncProperty(ledgers, async ({ scores, orders }) => {
        const one = tastingFiles(scores, orders);
        const other = tastingFiles(scores.toReversed(), orders.toReversed());
        for (const argv of [['scores'], ['preference', '--from', 'both']]) {
          const [first, second] = [await runJson(one, ...argv), await runJson(other, ...argv)];
          expect(second.rows).toHaveLength(first.rows.length);
          for (const [at, row] of byName(first.rows).entries()) {
            const same = byName(second.rows)[at] ?? {};
            for (const key of ['mean', 'se', 'low', 'worth', 'logWorth', 'raw', 'wins', 'orders']) {
              const [ours, theirs] = [row[key] ?? null, same[key] ?? null];
              if (ours === null) expect(theirs).toBeNull();
              else expect(Math.abs(Number(theirs) - Number(ours))).toBeLessThan(1e-6);
            }
          }
        }
      }),
      { numRuns: 40 },
    );
  });
});
