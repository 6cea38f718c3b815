import { expect, test } from 'vitest';
import { memoryStore } from '../../tests/support/memory-store.ts';
import { diagnose } from '../diagnostics/diagnostic.ts';
import { entryUnreadable } from '../diagnostics/words/entry-placing.ts';
import { located } from '../reading/yaml-locate.ts';
import { byFile, type Listing } from './listing.ts';
import type { NewEntry } from './new-entry.ts';
import { placeEntries } from './place-entries.ts';
import { recordEntries } from './record-entries.ts';
import type { Store } from './store.ts';
import { tidyStored } from './tidy-text.ts';

const PATH = 'seasons/2026.yaml';
const TEXT = 'season: 2026\npicks:\n  - { on: 2026-07-20, tree: G3, crop: early, fruit: 3 }\n';
const pick = (on: string): NewEntry => ({
  section: 'picks',
  entry: { on, tree: 'G3', crop: 'early', fruit: 1 },
});

test('what was saved meanwhile is kept, and the entry placed anew', async () => {
  const files = new Map([[PATH, TEXT]]);
  let saves = 2;
  const store = memoryStore(files, (held) => {
    if (saves-- > 0) held.set(PATH, `${held.get(PATH)}# saved ${saves}\n`);
  });
  const done = await recordEntries(store, PATH, [pick('2026-07-21')]);
  expect(done).toMatchObject({ kind: 'recorded', added: [{ line: 4 }] });
  expect(files.get(PATH)).toBe(
    `${TEXT}  - { on: 2026-07-21, tree: G3, crop: early, fruit: 1 }\n# saved 1\n# saved 0\n`,
  );
});

test('a list that was saved meanwhile keeps what was saved, and the new tree comes behind it', async () => {
  const text = 'G3: { cultivar: amber, site: yard }\n';
  const other = 'G4: { cultivar: amber, site: yard } # typed by hand\n';
  const files = new Map([['trees.yaml', text]]);
  let saves = 1;
  const store = memoryStore(files, (held) => {
    if (saves-- > 0) held.set('trees.yaml', `${held.get('trees.yaml')}${other}`);
  });
  const tree = (key: string, cultivar = 'amber'): Listing => ({
    section: 'trees',
    key,
    entry: { cultivar, site: 'yard' },
  });
  const done = await recordEntries(store, 'trees.yaml', [tree('A1')]);
  expect(done).toMatchObject({ kind: 'recorded', added: [{ line: 3 }] });
  expect(files.get('trees.yaml')).toBe(`${text}${other}A1: { cultivar: amber, site: yard }\n`);
  // What somebody listed meanwhile under the same id is not written over.
  expect(await recordEntries(store, 'trees.yaml', [tree('G4', 'widow')])).toMatchObject({
    kind: 'refused',
    diagnostics: [{ rule: 'listed-already' }],
    entries: 'G4: { cultivar: widow, site: yard }\n',
  });
});

test('a file that never rests hands the entries back', async () => {
  const files = new Map([[PATH, TEXT]]);
  const store = memoryStore(files, (held) => held.set(PATH, `${held.get(PATH)}#\n`));
  const done = await recordEntries(store, PATH, [pick('2026-07-21')]);
  expect(done).toMatchObject({
    kind: 'failed',
    fault: { code: 'CHANGED' },
    entries: 'picks:\n  - { on: 2026-07-21, tree: G3, crop: early, fruit: 1 }\n',
  });
  expect(files.get(PATH)).not.toContain('2026-07-21');
});

test('a placement made before is taken while the file is the same, and made anew when it is not', async () => {
  const before = { path: PATH, text: TEXT, bom: false };
  const entries = [pick('2026-07-21')];
  const placed = placeEntries(before, entries);
  if (placed.kind === 'refused') throw new Error('it was refused');
  // A comment tells the placement that was made before from one that is made now.
  const after = { ...placed.file, text: `# planned\n${placed.file.text}` };
  const added = placed.added.map(({ entry, at }) => ({ entry, at: { ...at, file: after } }));
  const planned = { before, after, added };
  const line = '  - { on: 2026-07-21, tree: G3, crop: early, fruit: 1 }\n';
  for (const [held, wanted] of [
    [TEXT, `# planned\n${TEXT}${line}`],
    [`\ufeff${TEXT}`, `\ufeff${TEXT}${line}`],
    [`${TEXT}# saved\n`, `${TEXT}${line}# saved\n`],
  ] as const) {
    const files = new Map([[PATH, held]]);
    const done = await recordEntries(memoryStore(files), PATH, entries, { planned });
    expect(done).toMatchObject({ kind: 'recorded', added: [{ line: held === TEXT ? 5 : 4 }] });
    expect(files.get(PATH)).toBe(wanted);
  }
});

test('what a rule finds stops the write', async () => {
  const files = new Map([[PATH, TEXT]]);
  const done = await recordEntries(memoryStore(files), PATH, [pick('2026-07-21')], {
    check: (before, after) => {
      expect(after.text).not.toBe(before.text);
      return located([diagnose(entryUnreadable, { file: after, start: 0, end: 1 }, {})]);
    },
  });
  expect(done).toMatchObject({ kind: 'refused', diagnostics: [{ rule: 'entry-file-shape' }] });
  expect(files.get(PATH)).toBe(TEXT);
});

test('a byte order mark and line ends survive; a file that is not UTF-8 is refused', async () => {
  const files = new Map([[PATH, `\ufeff${TEXT.replaceAll('\n', '\r\n')}`]]);
  await recordEntries(memoryStore(files), PATH, [pick('2026-07-21')]);
  expect(files.get(PATH)).toBe(
    `\ufeff${TEXT}  - { on: 2026-07-21, tree: G3, crop: early, fruit: 1 }\n`.replaceAll(
      '\n',
      '\r\n',
    ),
  );
  const store: Store = {
    ...memoryStore(files),
    whileLocked: (_, action) =>
      action({
        read: async () => ({ bytes: Uint8Array.of(0xe9), mark: '' }),
        writeIfUnchanged: async () => 'written',
      }),
  };
  const done = await recordEntries(store, PATH, [pick('2026-07-21')]);
  expect(done).toMatchObject({ kind: 'refused', diagnostics: [{ rule: 'file-not-utf8' }] });
});

test('a file on the disk is tidied, or left alone when it changed meanwhile', async () => {
  const files = new Map([[PATH, 'season:  2026\n']]);
  expect(await tidyStored(memoryStore(files), PATH)).toMatchObject({
    kind: 'tidied',
    changed: true,
  });
  expect(files.get(PATH)).toBe('season: 2026\n');
  expect(await tidyStored(memoryStore(files), PATH)).toMatchObject({
    kind: 'tidied',
    changed: false,
  });
  expect(await tidyStored(memoryStore(files), 'seasons/2025.yaml')).toMatchObject({
    kind: 'failed',
    fault: { code: 'ENOENT' },
  });
  files.set(PATH, 'season:  2026\n');
  const meddled = memoryStore(files, (held) => held.set(PATH, 'season:   2026\n'));
  expect(await tidyStored(meddled, PATH)).toMatchObject({
    kind: 'failed',
    fault: { code: 'CHANGED' },
  });
  expect(files.get(PATH)).toBe('season:   2026\n');
});

test('entries go to the file of their season, which in the south begins in July', () => {
  const files = byFile([pick('2026-07-01'), pick('2025-07-01'), pick('2026-01-01')], undefined);
  expect([...files].map(([path, list]) => [path, list.length])).toEqual([
    ['seasons/2025.yaml', 1],
    ['seasons/2026.yaml', 2],
  ]);
});
