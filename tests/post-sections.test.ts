import { expect, test } from 'vitest';
import { run } from '../src/cli/run.ts';
import { memoryHost } from './support/memory-host.ts';

const MINUTES = 120_000;

/** Sittings of a season at which cultivars A, B and C get these scores. */
function season(year: number, scores: Readonly<Record<'A' | 'B' | 'C', number>>): string {
  const sittings = ['08-20', '08-27', '09-03'].map(
    (day) => `  - on: ${year}-${day}
    samples: [{ tree: A, crop: main }, { tree: B, crop: main }, { tree: C, crop: main }]
    scores:
${['mara', 'joss']
  .map(
    (taster) =>
      `      ${taster}: { ${Object.entries(scores)
        .map(([tree, flavour]) => `${tree}: { flavour: ${flavour} }`)
        .join(', ')} }`,
  )
  .join('\n')}`,
  );
  const picks = ['A', 'B', 'C'].map(
    (tree) => `  - { on: ${year}-08-20, tree: ${tree}, crop: main, fruit: 5, weight: 200 }`,
  );
  return `season: ${year}\npicks:\n${picks.join('\n')}\ntastings:\n${sittings.join('\n')}\n`;
}

const files = {
  'ledger.yaml': `title: Two seasons
place: { name: Here, latitude: 52.4 }
fruit: plum
scale: { low: 1, high: 10 }
traits: [flavour]
tasters: { mara: Mara, joss: Joss }
sites: { yard: { name: yard, cover: open }, glass: { name: house, cover: glass } }
rank: { weights: { flavour: 1 } }
`,
  'cultivars.yaml': `a: { name: Alpha Gage, bears: main }
b: { name: Beta Gage, bears: main }
c: { name: Gamma Gage, bears: main }
`,
  'trees.yaml': `A: { cultivar: a, site: yard, planted: 2019-11, container: ground }
B: { cultivar: b, site: yard, received: 2025-02, container: "20 L", rootstock: seedling }
C: { cultivar: c, site: yard, container: "20 L", planted: 2018, removed: 2026-11-01 }
D: { cultivar: a, site: glass }
`,
  'seasons/2025.yaml': season(2025, { A: 9, B: 7, C: 2 }),
  'seasons/2026.yaml': `${season(2026, { A: 9, B: 2, C: 7 })}counts:
  - { on: 2026-08-01, tree: D, crop: main, fruit: 9 }
events:
  - { on: 2026-03-01, tree: B, kind: repot, container: "35 L" }
`,
};

async function post(...argv: readonly string[]): Promise<string> {
  const world = memoryHost({ files });
  const exit = await run(['post', '--full', '--front-matter', 'none', ...argv], world.host);
  expect({ exit, err: world.err() }).toEqual({ exit: 0, err: '' });
  return world.out();
}

/** Cells of the row of a table that begins with a name, from the first such row behind a heading. */
function cells(text: string, heading: string, name: string): readonly string[] {
  const after = text.slice(text.indexOf(`## ${heading}`));
  const row = after.split('\n').find((line) => line.startsWith(`| ${name} |`));
  return (row ?? '')
    .split('|')
    .slice(2, -1)
    .map((cell) => cell.trim());
}

test(
  'who came in, who went out and who stayed',
  async () => {
    const text = await post('--top', '2');
    const change = (name: string) => cells(text, 'What changed since 2025', name).slice(0, 3);
    expect(change('Alpha Gage')).toEqual(['1', '1', 'same']);
    expect(change('Gamma Gage')).toEqual(['3', '2', 'new']);
    expect(change('Beta Gage')).toEqual(['2', '3', 'out']);
  },
  MINUTES,
);

test(
  'who moved, within the top',
  async () => {
    const text = await post('--top', '3');
    const change = (name: string) => cells(text, 'What changed since 2025', name)[2];
    expect(change('Gamma Gage')).toBe('up 1');
    expect(change('Beta Gage')).toBe('down 1');
  },
  MINUTES,
);

test(
  'the season before is looked up although only one is asked for',
  async () => {
    expect(await post('--season', '2026')).toContain('## What changed since 2025\n');
    expect(await post('--season', '2025')).not.toContain('What changed');
  },
  MINUTES,
);

test(
  'each tree of a ranked cultivar: site, container as repotted, age',
  async () => {
    const text = await post();
    const grown = (name: string) => cells(text, 'How it was grown', name)[1];
    expect(grown('Alpha Gage')).toBe('yard, in the ground, 7 years; house, age not known');
    expect(grown('Beta Gage')).toBe('yard, pot of 35 L, 1 year, on seedling');
    expect(grown('Gamma Gage')).toBe('yard, pot of 20 L, 8 years, removed 1 November 2026');
    const before = await post('--season', '2025');
    expect(cells(before, 'How it was grown', 'Beta Gage')[1]).toBe(
      'yard, pot of 20 L, first year, on seedling',
    );
  },
  MINUTES,
);

test(
  'a reader is told of no option of a command line',
  async () => {
    const text = await post();
    expect(text).toContain('are added up over 2025 and 2026');
    expect(text).not.toMatch(/(^|[^-|])--[a-z]/m);
    expect(text).not.toContain('Crops:');
  },
  MINUTES,
);

test(
  'the place is told to a whole degree, and cautions fit the fruit',
  async () => {
    const text = await post();
    expect(text).toContain('Here, about 52 degrees north.');
    expect(text).toContain('1 tree under glass (house) and 3 trees in the open (yard)');
    // What the heading says, the caption under it need not.
    expect(text).not.toMatch(/Main crop: (all|the first|the one)/);
    expect(text).not.toMatch(/52\.4|Fig sap|pollinator/);
    expect(text).toContain('Do not taste mouldy');
  },
  MINUTES,
);

test(
  'a part of the trial says that it is one',
  async () => {
    const text = await post('--site', 'glass');
    expect(text).toContain('Only a part of the trial is told here: house.');
    expect(text).toMatch(/^# Two seasons, 2026, house\n/);
    expect(text).not.toContain('Beta Gage');
    // No early crop was seen, so nothing is said of one.
    expect(text).not.toMatch(/\bEarly (?:trees|picked)/);
  },
  MINUTES,
);

test(
  'sums of what was picked and weighed',
  async () => {
    // 2 seasons x 3 trees x 5 fruit and 200 g.
    expect(await post()).toContain('- How much, 2025 to 2026: 30 fruit of the main crop, 1.2 kg.');
  },
  MINUTES,
);

test(
  'the same ledger and day give the same post',
  async () => {
    expect(await post()).toBe(await post());
  },
  MINUTES,
);

test(
  'the ends of an interval stand in one column',
  async () => {
    const head = /^\| Rank \|.*$/m.exec(await post())?.[0];
    expect(head).toContain('| New tree, 95 % | New tree ');
    expect(head?.match(/95 % interval/g)).toHaveLength(1);
  },
  MINUTES,
);

test(
  'what could not be ranked is told under the cover where it stood',
  async () => {
    const more = {
      'cultivars.yaml': `${files['cultivars.yaml']}d: { name: Delta Gage, bears: main }\n`,
      'trees.yaml': `${files['trees.yaml']}E: { cultivar: d, site: glass }\n`,
      'seasons/2026.yaml': files['seasons/2026.yaml'].replace(
        'counts:\n',
        'counts:\n  - { on: 2026-08-01, tree: E, crop: main, fruit: 4 }\n',
      ),
    };
    const world = memoryHost({ files: { ...files, ...more } });
    expect(await run(['post', '--front-matter', 'none'], world.host)).toBe(0);
    const [, glass = '', open = ''] = world.out().split(/^## .*(?:under glass|in the open)$/m);
    expect([glass.includes('Delta Gage'), open.split('## ')[0]?.includes('Delta')]).toEqual([
      true,
      false,
    ]);
  },
  MINUTES,
);

test(
  'what could not be ranked under two covers is told under both, with what was seen there',
  async () => {
    const more = {
      'cultivars.yaml': `${files['cultivars.yaml']}d: { name: Delta Gage, bears: main }\n`,
      'trees.yaml': `${files['trees.yaml']}E: { cultivar: d, site: glass }\nF: { cultivar: d, site: yard }\n`,
      'seasons/2026.yaml': files['seasons/2026.yaml'].replace(
        'picks:\n',
        'picks:\n  - { on: 2026-08-01, tree: E, crop: main, weights: [40] }\n' +
          '  - { on: 2026-08-01, tree: F, crop: main, weights: [20] }\n',
      ),
    };
    const world = memoryHost({ files: { ...files, ...more } });
    expect(await run(['post', '--front-matter', 'none'], world.host)).toBe(0);
    const rows = world.out().match(/^\| Delta Gage .*$/gm) ?? [];
    expect(
      rows.map((row) =>
        row
          .split('|')
          .map((cell) => cell.trim())
          .slice(2, -1),
      ),
    ).toEqual([
      ['still being watched', '', '', '', ''],
      ['1 August', '40', '100', '40'],
      ['still being watched', '', '', '', ''],
      ['1 August', '20', '100', '20'],
    ]);
    const ranked = memoryHost({ files: { ...files, ...more } });
    const by = ['--by', 'cover', '--crop', 'main', '--format', 'json'];
    expect(await run(['rank', ...by], ranked.host)).toBe(0);
    const table = JSON.parse(ranked.out());
    const own = table.rows.filter((row: { cultivar: string }) => row.cultivar === 'Delta Gage');
    expect(own).toMatchObject([{ cover: null, trees: 2, flavour: null }]);
    const notes = table.notes.map(({ text }: { text: string }) => text).join('\n');
    expect(notes).not.toContain('--by cover');
  },
  MINUTES,
);

test(
  'a place where nobody tasted says so',
  async () => {
    const more = {
      'ledger.yaml': files['ledger.yaml'].replace(
        '{ flavour: 1 }',
        '{ flavour: 1, soundness: 1 }, bands: { soundness: [[0.5, 1], [1, 10]] }',
      ),
      'seasons/2026.yaml': files['seasons/2026.yaml'].replace(
        'picks:\n',
        'picks:\n  - { on: 2026-08-20, tree: D, crop: main, fruit: 4, weight: 160 }\n',
      ),
    };
    const world = memoryHost({ files: { ...files, ...more } });
    expect(await run(['post', '--front-matter', 'none'], world.host)).toBe(0);
    const words = 'Nothing was tasted under glass: how it tastes is told from fruit that stood';
    expect(world.out()).toContain(words);
    expect(world.out()).not.toContain('Nothing was tasted in the open');
  },
  MINUTES,
);
