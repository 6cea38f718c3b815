import { spawnSync } from 'node:child_process';
import { existsSync, mkdtempSync, readFileSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';

const BIN = fileURLToPath(new URL('../../bin/pomary.js', import.meta.url));
const DIST = fileURLToPath(new URL('../../dist/main.js', import.meta.url));

// The whole way from an empty folder to a rank, without an editor.

/** A year that is over whenever this runs. */
const YEAR = new Date().getFullYear() - 1;

const EVENING = `# the trial
taster ann Ann
taster tom Tom
site glass glasshouse glass
cultivar "Paper Lamp" bears unknown also Lampe
cultivar Bell Ringer bears common
cultivar Hob's Green bears common perhaps bell ringer why same leaf
tree A1 Paper Lamp at garden planted 2021 in 20 L from "swap table" as "P. lamp?"
tree g1 Bell Ringer at greenhouse planted April 2021 in ground
tree A2 Bell Ringer at garden planted 2022
tree A3 Hob's Green at garden planted 2020 note by the gate

on ${YEAR}-08-20
count A1 main 26 on 9
count A2 main 20/8
count g1 main 32 fruit on 11 branches
count A3 main 9/8
on ${YEAR}-09-07
A1 41,5 38.2 44 1 split
A2 47,8 58,4 56.5 split 2 bird 1
g1 34.9 41.2
hob's green 29.8 43.9
taste A1: ann 8 9 7, tom 6 7 6.5 words melon
taste A2: ann 7 7 7, tom 6,5 6 6
taste g1: ann 9 8 8 words honey, wild honey, tom 8 8,5 7
taste A3: ann 5 6 -, tom 4 5 4
order ann g1 > A1 > A2 > A3
order tom g1 > A1 = A2 > A3
`;

describe('from nothing', () => {
  let folder = '';
  beforeAll(() => {
    if (!existsSync(DIST)) throw new Error('build first: npm run build');
    folder = mkdtempSync(join(tmpdir(), 'pomary-nothing-'));
  });
  afterAll(() => rmSync(folder, { recursive: true, force: true }));

  const pomary = (argv: readonly string[], input = '') => {
    const env = { PATH: process.env['PATH'] ?? '', COLUMNS: '80' };
    const { status, stdout, stderr } = spawnSync(process.execPath, [BIN, ...argv], {
      cwd: folder,
      env,
      input,
      encoding: 'utf8',
    });
    return { status, out: stdout, err: stderr };
  };
  const text = (path: string) => readFileSync(join(folder, path), 'utf8');

  it('one evening fills a ledger that yields, scores and ranks', () => {
    expect(pomary(['init', '--title', 'Mossgate figs']).status).toBe(0);
    const before = { trial: text('ledger.yaml'), trees: text('trees.yaml') };
    const { status, out, err } = pomary(['enter'], EVENING);
    expect(err).not.toContain('error');
    expect(status).toBe(0);
    expect(out).toContain('New: 2 tasters, 1 site, 3 cultivars, 4 trees\n');
    expect(out).toContain(`20 August ${YEAR}: 4 counts\n`);
    expect(out).toContain(
      `7 September ${YEAR}: 4 picks of 10 fruit, 4 plates before 2 tasters, 2 orders\n`,
    );
    expect(out).toContain('24 entries written.\n');

    expect(text('cultivars.yaml').split('\n\n').at(-1)).toBe(
      `paper-lamp: { name: Paper Lamp, bears: unknown, also: [Lampe] }
bell-ringer: { name: Bell Ringer, bears: common }
hobs-green: { name: Hob's Green, bears: common, perhaps: { same_as: bell-ringer, why: same leaf } }
`,
    );
    expect(text('trees.yaml')).toBe(`${before.trees}
A1:
  cultivar: paper-lamp
  received_as: P. lamp?
  from: swap table
  planted: 2021
  site: garden
  container: 20 L
g1: { cultivar: bell-ringer, planted: 2021-04, site: glass, container: ground }
A2: { cultivar: bell-ringer, planted: 2022, site: garden }
A3: { cultivar: hobs-green, planted: 2020, site: garden, note: by the gate }
`);
    const added = text('ledger.yaml')
      .split('\n')
      .filter((line) => !before.trial.split('\n').includes(line));
    expect(added).toEqual([
      '  ann: Ann',
      '  tom: Tom',
      '  glass: { name: glasshouse, cover: glass }',
    ]);
    expect(text(`seasons/${YEAR}.yaml`)).toContain(
      `  - { on: ${YEAR}-09-07, tree: A1, crop: main, weights: [41.5, 38.2, 44], split: 1 }\n`,
    );

    expect(pomary(['check']).out).not.toContain('error');
    const yields = pomary(['yield', '--by', 'cultivar']);
    expect([yields.status, yields.out]).toEqual([0, expect.stringContaining('Bell Ringer')]);
    const scores = pomary(['scores']);
    expect([scores.status, scores.out]).toEqual([0, expect.stringContaining('Paper Lamp')]);
    const rank = JSON.parse(pomary(['rank', '--format', 'json']).out) as {
      rows: { rank: number | null; cultivar: string }[];
    };
    expect(
      rank.rows.filter((row) => row.rank !== null).map(({ cultivar }) => cultivar),
    ).toHaveLength(3);
  });

  it('the same evening again is passed over and told, and nothing changes', () => {
    const before = ['ledger.yaml', 'cultivars.yaml', 'trees.yaml', `seasons/${YEAR}.yaml`].map(
      text,
    );
    const { status, out, err } = pomary(['enter'], EVENING);
    expect([status, err]).toEqual([0, '']);
    for (const path of ['ledger.yaml', 'cultivars.yaml', 'trees.yaml', `seasons/${YEAR}.yaml`]) {
      expect(out).toMatch(
        new RegExp(`^${path}: \\d+ entries are there already and passed over`, 'm'),
      );
    }
    expect(out).toMatch(/Nothing new to write\.\n$/);
    expect(
      ['ledger.yaml', 'cultivars.yaml', 'trees.yaml', `seasons/${YEAR}.yaml`].map(text),
    ).toEqual(before);
  });
});
