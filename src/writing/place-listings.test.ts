import { describe, expect, test } from 'vitest';
import { starterFiles } from '../reading/starter-ledger.ts';
import type { Listing } from './listing.ts';
import { placeListings } from './place-listings.ts';

const lamp: Listing = {
  section: 'cultivars',
  key: 'paper-lamp',
  entry: { also: ['Lampe'], name: 'Paper Lamp', bears: 'unknown' },
};
const a2: Listing = {
  section: 'trees',
  key: 'A2',
  entry: { cultivar: 'paper-lamp', container: '20 L', site: 'garden', planted: 2021 },
};
const ann: Listing = { section: 'tasters', key: 'ann', entry: 'Ann' };
const tom: Listing = { section: 'tasters', key: 'tom', entry: 'Tom' };
const wall: Listing = {
  section: 'sites',
  key: 'yard',
  entry: { name: 'south wall', cover: 'open' },
};

const STARTER = {
  title: 'T',
  season: 2026,
  fruit: 'fig',
  place: undefined,
  latitude: undefined,
  units: undefined,
};

function withListed(path: string, text: string, ...listings: readonly Listing[]): string {
  const made = placeListings({ path, text, bom: false }, listings);
  return made.kind === 'placed' ? made.file.text : made.diagnostics.map(({ rule }) => rule).join();
}

test('a cultivar and a tree come at the end of their lists, as people write them', () => {
  expect(withListed('cultivars.yaml', '# ours\nbell: { name: Bell, bears: common }\n', lamp)).toBe(
    '# ours\nbell: { name: Bell, bears: common }\npaper-lamp: { name: Paper Lamp, bears: unknown, also: [Lampe] }\n',
  );
  const spaced =
    'A1:\n  cultivar: bell # the old one\n  site: garden\n\nB1: { cultivar: bell, site: garden }\n';
  expect(withListed('trees.yaml', spaced, a2)).toBe(
    `${spaced}\nA2: { cultivar: paper-lamp, planted: 2021, site: garden, container: 20 L }\n`,
  );
  const crlf = 'A1: { cultivar: bell, site: garden }\r\n';
  expect(withListed('trees.yaml', crlf, a2)).toBe(
    `${crlf}A2: { cultivar: paper-lamp, planted: 2021, site: garden, container: 20 L }\r\n`,
  );
});

test('what does not fit on a line takes a line a key', () => {
  const why =
    'from the wall behind the chapel, which is gone, where it had stood for a hundred years';
  const long: Listing = { ...lamp, entry: { name: 'Paper Lamp', bears: 'common', note: why } };
  expect(withListed('cultivars.yaml', '', long)).toBe(
    `# yaml-language-server: $schema=schema/cultivars.schema.json\n\npaper-lamp:\n  name: Paper Lamp\n  bears: common\n  note: ${why}\n`,
  );
});

describe('the files of a new ledger', () => {
  const files = new Map(starterFiles(STARTER).map(({ path, text }) => [path, text]));
  const cultivars = files.get('cultivars.yaml') ?? expect.fail();
  const trial = files.get('ledger.yaml') ?? expect.fail();

  test('keep their comments on top', () => {
    expect(withListed('cultivars.yaml', cultivars, lamp)).toBe(
      `${cultivars}\npaper-lamp: { name: Paper Lamp, bears: unknown, also: [Lampe] }\n`,
    );
    expect(withListed('cultivars.yaml', `${cultivars}\n{}\n`, lamp)).toBe(
      `${cultivars}\npaper-lamp: { name: Paper Lamp, bears: unknown, also: [Lampe] }\n`,
    );
  });

  test('take tasters, sites and settings where they belong', () => {
    const told = withListed('ledger.yaml', trial, ann, tom, wall);
    expect(told).toContain('\ntasters:\n  ann: Ann\n  tom: Tom\n  # mara: Mara\n');
    expect(told).toContain(
      '\nsites:\n  garden: { name: garden, cover: open }\n  yard: { name: south wall, cover: open }\n  # glass:',
    );
    const added = told.split('\n').filter((line) => !trial.split('\n').includes(line));
    expect(added).toHaveLength(3);
  });
});

test('tasters go into the braces of a map that has them', () => {
  const text = 'title: T\ntasters: { mara: Mara } # us\nfruit: fig\n';
  expect(withListed('ledger.yaml', text, ann)).toBe(
    'title: T\ntasters: { mara: Mara, ann: Ann } # us\nfruit: fig\n',
  );
  expect(
    withListed('ledger.yaml', 'title: T\nfruit: fig\ntraits: [a]\nsites: {}\n', ann, wall),
  ).toBe(
    'title: T\nfruit: fig\ntraits: [a]\ntasters:\n  ann: Ann\nsites:\n  yard: { name: south wall, cover: open }\n',
  );
});

test('brackets with comments in them are left alone', () => {
  const text = 'title: T\nfruit: fig\ntraits: [a]\ntasters: {\n  mara: Mara, # us\n  }\n';
  expect(withListed('ledger.yaml', text, ann)).toBe('entry-map-brackets');
});

test('what is listed already stays as it is', () => {
  const text = 'ann: Ann\n';
  expect(withListed('ledger.yaml', `tasters:\n  ${text}`, ann)).toBe(`tasters:\n  ${text}`);
  expect(withListed('ledger.yaml', 'tasters:\n  ann: Anne\n', ann)).toBe('listed-already');
  expect(withListed('cultivars.yaml', 'paper-lamp: { name: P, bears: common }\n', lamp)).toBe(
    'listed-already',
  );
  expect(withListed('cultivars.yaml', '{ a: { name: A, bears: common } }\n', lamp)).toBe(
    'entry-root-brackets',
  );
  expect(withListed('cultivars.yaml', 'a: [1\n', lamp)).toBe('yaml-syntax');
});

test('a removal stands behind what is said of its tree, in braces or below', () => {
  const gone: Listing = { section: 'removals', key: 'A1', entry: '2026-09-20' };
  const flow =
    'A1: { cultivar: bell, site: garden } # by the gate\nB1: { cultivar: bell, site: garden }\n';
  expect(withListed('trees.yaml', flow, gone)).toBe(
    flow.replace('garden }', 'garden, removed: 2026-09-20 }'),
  );
  const block =
    'A1:\n  cultivar: bell\n  site: garden # by the gate\n\nB1: { cultivar: bell, site: garden }\n';
  expect(withListed('trees.yaml', block, gone)).toBe(
    block.replace('gate\n', 'gate\n  removed: 2026-09-20\n'),
  );
  expect(withListed('trees.yaml', withListed('trees.yaml', flow, gone), gone)).toBe(
    withListed('trees.yaml', flow, gone),
  );
  const other = 'A1: { cultivar: bell, site: garden, removed: 2025 }\n';
  expect(withListed('trees.yaml', other, gone)).toBe('listed-already');
});
