import { readFileSync } from 'node:fs';
import { expect, test } from 'vitest';
import { CATALOGUE, SECTIONS } from '../src/entries/catalogue.ts';
import { cultivar } from '../src/entries/cultivar.ts';
import { HINTS } from '../src/entries/derive/hints.ts';
import { orderedKeys } from '../src/entries/derive/key-order.ts';
import { EVENT_WORDS } from '../src/entries/event.ts';
import { EVENTS } from '../src/entries/event-kinds.ts';
import type { Fields as EntryFields } from '../src/entries/field.ts';
import type { Kind } from '../src/entries/kind.ts';
import { sample } from '../src/entries/tasting.ts';
import { tree } from '../src/entries/tree.ts';
import { trial } from '../src/entries/trial.ts';
import type { SeasonSection } from '../src/model/ledger.ts';
import { starterFiles } from '../src/reading/starter-ledger.ts';
import { ledgerEntries } from '../src/report/changes/ledger-entries.ts';
import { importTable } from '../src/writing/import/import-table.ts';
import { isSeasonEntry } from '../src/writing/listing.ts';
import { type FileMap, isFileMap, type NewEntry } from '../src/writing/new-entry.ts';
import { entryInWords } from '../src/writing/shorthand/entry-in-words.ts';
import { SHORTHAND } from '../src/writing/shorthand/help.ts';
import { beginSession, readLine } from '../src/writing/shorthand/read-line.ts';
import { day, entryLedger } from './support/entry-ledger.ts';
import { ledgerFrom } from './support/ledger-from.ts';
import { runOn } from './support/run-on.ts';

/** What is typed so that each field of each kind is said at least once, where the examples of the help do not. */
const LINES: Readonly<Partial<Record<SeasonSection, readonly string[]>>> = {
  counts: ['count G3 early 21 on 8 photo p.jpg note wet week'],
  picks: [
    'pick G3 early 31 32 fruit 7 weight 170 sample random split 1 bird 1 insect 1 animal 1 mould 1 unripe 1 photo p.jpg note wet week',
  ],
  drops: ['drop G3 early 2 photo p.jpg note wet week'],
  tastings: [
    'taste G3 early mara flavour 8 words melon, wild honey under brix 19.5 eye 3 as 417 photo p.jpg note wet week',
    'order early mara G3 > Y1',
  ],
  events: [
    'move P2 glass photo p.jpg note wet week',
    'spray yard soap wait 3 after picks',
    ...EVENT_WORDS.filter((word) => word !== 'move').map((word) => EVENTS[word].line.example),
  ],
};

const known = entryLedger();
const on = day('2026-07-24');

function linesOf(section: SeasonSection): readonly string[] {
  const { lines = [] }: Kind = CATALOGUE[section];
  return LINES[section] ?? lines.map(({ example }) => `${example} photo p.jpg note wet week`);
}

function typed(section: SeasonSection): readonly NewEntry[] {
  return linesOf(section).flatMap((line) => {
    const read = readLine(line, beginSession(on), known);
    expect([read.slips, read.questions], line).toEqual([[], []]);
    return read.session.entries.filter(isSeasonEntry);
  });
}

const TRIAL = {
  'ledger.yaml': `title: T
fruit: fig
traits: [flavour]
tasters: { mara: Mara }
sites: { glass: { name: glasshouse, cover: glass }, yard: { name: wall, cover: open } }
`,
  'cultivars.yaml':
    'amber: { name: Amber Lantern, bears: common }\nyarrow: { name: Yarrow Bell, bears: common }\n',
  'trees.yaml':
    'G3: { cultivar: amber, site: glass }\nY1: { cultivar: yarrow, site: yard }\nP2: { cultivar: yarrow, site: yard }\n',
};

function filesOf(section: SeasonSection, entries: readonly unknown[]) {
  return { ...TRIAL, 'seasons/2026.yaml': JSON.stringify({ season: 2026, [section]: entries }) };
}

/** Keys of entries, those of the samples of a sitting behind `samples.`. */
function keysOf(entries: readonly unknown[]): ReadonlySet<string> {
  return new Set(
    entries.filter(isFileMap).flatMap((entry) => {
      const { samples } = entry;
      const inside = Array.isArray(samples) ? [...keysOf(samples)] : [];
      return [...Object.keys(entry), ...inside.map((key) => `samples.${key}`)];
    }),
  );
}

/** The tables of `pomary export` from which a section is brought back. */
function tablesOf(section: SeasonSection): readonly string[] {
  return section === 'tastings' ? ['samples', 'scores', 'words'] : [section];
}

async function broughtBack(section: SeasonSection, entries: readonly FileMap[]) {
  const files = filesOf(section, entries);
  const ledger = ledgerFrom(files);
  const all: unknown[] = [];
  for (const table of tablesOf(section)) {
    const { out } = await runOn(['export', '--table', table], files);
    const { entries: made, rejects, problems } = importTable(out, { section, ledger });
    expect([rejects, problems], table).toEqual([[], []]);
    all.push(...made.map(({ entry }) => entry));
  }
  return all;
}

/** What `changes` tells of entries: the head of each, then its fields by their keys. */
function toldKeys(section: SeasonSection, entries: readonly FileMap[]): ReadonlySet<string> {
  const told = ledgerEntries(ledgerFrom(filesOf(section, entries)));
  const ofSection = told.filter(
    ({ kind }) => !['setting', 'cultivar', 'tree', 'weather'].includes(kind),
  );
  return new Set(
    ofSection.flatMap(({ kind, name, fields, ...head }) => {
      const place = kind === 'sample' ? 'samples.' : '';
      const heads = (['on', 'tree', 'crop'] as const).filter((key) => head[key] !== undefined);
      const site = name?.startsWith('site ') ? ['site'] : [];
      const keys = [...heads, ...site, ...Object.keys(fields).map(plainKey)];
      return [...keys.map((key) => place + key), ...(place === '' ? [] : ['samples'])];
    }),
  );
}

/** Scores, words and orders are told by who gave them. */
function plainKey(key: string): string {
  if (key.startsWith('order by ')) return 'order';
  if (key.startsWith('words by ')) return 'words';
  return key.includes(' by ') ? 'scores' : key;
}

/** Fields by their keys, with those of a sample. */
function fieldsOf(section: SeasonSection): EntryFields {
  const own: EntryFields = CATALOGUE[section].fields;
  if (section !== 'tastings') return own;
  const inside = Object.entries(sample.fields).map(([key, one]) => [`samples.${key}`, one]);
  return { ...own, ...Object.fromEntries(inside) };
}

/** What a sitting holds by taster and sample may be told beside the sample. */
const OF_SAMPLE = new Set(['scores', 'words']);

async function sidesWithout(section: SeasonSection): Promise<readonly string[]> {
  const entries = typed(section);
  const raw = entries.map(({ entry }): FileMap => ({ ...entry }));
  // A sitting has a day of its own, and remarks that no typed line has.
  const sittings = raw.map((one, at) => ({
    ...one,
    ...{ on: `2026-07-2${at + 4}`, note: 'late', photo: 'q.jpg' },
  }));
  const whole = section === 'tastings' ? sittings : raw;
  const sides = {
    line: keysOf(raw),
    'export and import': keysOf(await broughtBack(section, whole)),
    changes: toldKeys(section, whole),
    hint: new Set(
      Object.keys(HINTS.season)
        .filter((path) => path.startsWith(`${section}.`))
        .map((path) => path.slice(section.length + 1)),
    ),
  };
  return Object.entries(sides).flatMap(([side, keys]) =>
    Object.keys(fieldsOf(section))
      .filter((key) => !keys.has(key) && !(OF_SAMPLE.has(key) && keys.has(`samples.${key}`)))
      .map((key) => `${side} lacks ${key}`),
  );
}

/** A line tells of one sample, and a table has no row for a whole sitting: the README says so. */
const LACKING: Readonly<Partial<Record<SeasonSection, readonly string[]>>> = {
  tastings: [
    'line lacks note',
    'line lacks photo',
    'export and import lacks order',
    'export and import lacks note',
    'export and import lacks photo',
  ],
};

test.each(SECTIONS)('every field of %s is shown on every side', async (section) => {
  expect(await sidesWithout(section)).toEqual(LACKING[section] ?? []);
});

test('an entry is told back with the value of every field', () => {
  for (const section of SECTIONS) {
    for (const one of typed(section)) {
      const {
        on: _,
        tree: __,
        crop: ___,
        site,
        kind,
        ...said
      } = Object.fromEntries(Object.entries(one.entry));
      const told = entryInWords(known, one);
      const values = Object.values(said).filter((value) => typeof value !== 'object');
      for (const value of values) expect(told, told).toContain(String(value));
    }
  }
});

test('every key has its place in the order, and none is put behind the keys nobody knows', () => {
  for (const section of SECTIONS) {
    const keys = Object.keys(CATALOGUE[section].fields);
    const values = Object.fromEntries(['unheard', ...keys].map((key) => [key, 1]));
    expect(orderedKeys(section, values).at(-1), section).toBe('unheard');
  }
});

test('every kind of event has a line in the help, and its example is understood', () => {
  for (const word of EVENT_WORDS) {
    const line = SHORTHAND.find(({ pattern }) => pattern.split(' ')[0] === word);
    const read = readLine(line?.example ?? '', beginSession(on), known);
    expect(read.slips, word).toEqual([]);
    const [entry] = read.session.entries;
    expect(entry, word).toMatchObject({ section: 'events', entry: { kind: word } });
    const needed = Object.entries<EntryFields[string]>(EVENTS[word].fields)
      .filter(([, { isOptional }]) => !isOptional)
      .map(([key]) => key);
    expect(Object.keys(entry?.entry ?? {}), word).toEqual(expect.arrayContaining(needed));
  }
});

test.each(SECTIONS)('%s has its place in a new season file', (section) => {
  const files = starterFiles({
    ...{ title: 'T', fruit: 'fig', season: 2026 },
    ...{ place: undefined, latitude: undefined, units: undefined },
  });
  const { text } = files.find(({ path }) => path === 'seasons/2026.yaml') ?? { text: '' };
  expect(text, 'src/reading/starter-ledger.ts').toMatch(new RegExp(`^${section}:$`, 'm'));
});

test('README.md names every kind of event, and shows every section', () => {
  const readme = readFileSync(new URL('../README.md', import.meta.url), 'utf8');
  const [, kinds] = /^events: +# (.*)$/m.exec(readme) ?? [];
  expect(kinds, 'the season in README.md').toBe(EVENT_WORDS.join(', '));
  const shown = SECTIONS.filter((section) => new RegExp(`^${section}:`, 'm').test(readme));
  expect(shown, 'the season in README.md').toEqual(SECTIONS);
});

/** A ledger in which everything that is listed once and for all says everything it can. */
const FULL = {
  'ledger.yaml': `title: T
place: { name: Tidewrack Lane, climate: cool maritime, latitude: 52.1 }
fruit: fig
units: metric
decimal: comma
dates: day-first
pollinator: absent
crops: { early: breba, main: main }
scale: { low: 1, high: 10 }
traits: [flavour]
words: [melon]
tasters: { mara: Mara }
sites: { glass: { name: glasshouse, cover: glass } }
frost: { 2026: 2026-10-29 }
standard: amber
degree_days: { base: 10, upper: 36, method: mean }
rank: { weights: { flavour: 3 }, bands: { size: [["20 g", 1], ["80 g", 10]] } }
verdict: { min_seasons: 3, min_tastings: 4, increase_above: 7.5, discard_below: 5 }
licence: CC BY 4.0
front: { lang: en, toc: false }
`,
  'cultivars.yaml': `amber: { name: Amber Lantern, bears: common }
yarrow:
  name: Yarrow Bell
  bears: common
  also: [Old Bell]
  perhaps: { same_as: amber, why: same leaf }
  protected: false
  note: from the wall
`,
  'trees.yaml': `G3:
  cultivar: yarrow
  received_as: Bell
  from: swap table
  received: 2021-10
  planted: 2022
  site: glass
  container: 20 L
  rootstock: none
  removed: 2026-09-01
  note: died
`,
};

test.each([
  ['setting', trial.fields],
  ['cultivar', cultivar.fields],
  ['tree', tree.fields],
] as const)('changes tells every field of a %s', (kind, fields) => {
  const told = ledgerEntries(ledgerFrom(FULL)).filter((one) => one.kind === kind);
  const keys = told.flatMap(({ name, fields: own }) =>
    kind === 'setting' ? [String(name).split('.')[0]] : Object.keys(own),
  );
  expect([...new Set(keys)]).toEqual(expect.arrayContaining(Object.keys(fields)));
});

test.each([
  [
    'cultivars',
    ['yarrow', 'Yarrow Bell', 'common', 'amber', 'same leaf', 'FALSE', 'from the wall'],
  ],
  ['synonyms', ['yarrow', 'Old Bell']],
  [
    'trees',
    [
      ...['G3', 'yarrow', 'Bell', 'swap table', '2021-10', '2022', 'glass', 'pot', '20', 'none'],
      ...['2026-09-01', 'died'],
    ],
  ],
] as const)('export tells every field in the table of %s', async (table, values) => {
  const { out } = await runOn(['export', '--table', table], FULL);
  expect(out.trim().split('\n').at(-1)?.split(';').filter(Boolean)).toEqual(values);
});
