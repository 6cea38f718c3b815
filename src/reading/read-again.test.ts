import { describe, expect, it } from 'vitest';
import { ledgerWith, seasonText } from '../../tests/diagnostics/base-ledger.ts';
import { decode } from './decode.ts';
import { LedgerReader } from './read-ledger.ts';
import { readYaml } from './yaml-read.ts';

const SEASON = seasonText(`counts:
  - { on: 2026-07-02, tree: G1, crop: breba, fruit: 21, branches: 8 }
  - { on: 2026-07-02, tree: Y1, crop: breba, fruit: 9 }
picks:
  - { on: 2026-07-24, tree: G1, crop: breba, weights: [52.4, 47], split: 1 }
`);

describe('a ledger that is read again', () => {
  const files: Readonly<Record<string, string>> = {
    ...ledgerWith({}),
    'seasons/2025.yaml':
      'season: 2025\ncounts:\n  - { on: 2025-07-02, tree: G1, crop: breba, fruit: 4 }\n',
    'seasons/2026.yaml': SEASON,
  };
  const decoded = (texts: Readonly<Record<string, string>>) =>
    new Map(
      Object.entries(texts).map(([path, text]) => {
        const bytes = new TextEncoder().encode(text);
        return [path, decode({ path, bytes, size: bytes.length })];
      }),
    );
  const CHANGED = SEASON.replace('fruit: 9', 'fruit: 10, colour: red');

  it('has the trees in its seasons that it lists, though lists were changed before they were read', () => {
    const reader = new LedgerReader(readYaml);
    const before = decoded(files);
    const { ledger } = reader.readLater([...before.values()]);
    const trees = `${files['trees.yaml']}Z9: { cultivar: amber-lantern, site: yard }\n`;
    const after = new Map([...before, ...decoded({ 'trees.yaml': trees })]);
    const again = reader.read([...after.values()]);
    for (const read of [ledger, again.ledger]) {
      const named = read?.seasons.flatMap(({ counts }) => counts.map(({ tree }) => tree)) ?? [];
      expect(named.length).toBeGreaterThan(2);
      for (const tree of named) expect(tree).toBe(read?.trees.get(tree.id));
    }
  });

  it('says what it says when it is read for the first time, and what stayed is not read again', () => {
    const read: string[] = [];
    const reader = new LedgerReader((file) => {
      read.push(file.path);
      return readYaml(file);
    });
    const before = decoded(files);
    const first = reader.read([...before.values()]);
    expect(read.sort()).toEqual(Object.keys(files).sort());
    read.length = 0;
    const after = new Map([...before, ...decoded({ 'seasons/2026.yaml': CHANGED })]);
    const again = reader.read([...after.values()]);
    expect(read).toEqual(['seasons/2026.yaml']);
    const afresh = new LedgerReader(readYaml).read([...after.values()]);
    expect(again).toEqual(afresh);
    expect(again.diagnostics.map(({ rule }) => rule)).toEqual(['key-unknown']);
    expect([...(again.ledger?.incomplete ?? [])]).toEqual(['seasons/2026.yaml']);
    expect(again.ledger?.seasons[0]).toBe(first.ledger?.seasons[0]);
    expect(reader.read([...before.values()])).toEqual(first);
  });

  it('is built anew from what its seasons lean on', () => {
    const reader = new LedgerReader(readYaml);
    const before = decoded(files);
    reader.read([...before.values()]);
    const trees = String(files['trees.yaml']).replace('G1:', 'G9:');
    const after = [...new Map([...before, ...decoded({ 'trees.yaml': trees })]).values()];
    const again = reader.read(after);
    expect(again).toEqual(new LedgerReader(readYaml).read(after));
    expect(again.diagnostics.map(({ rule }) => rule)).toContain('tree-unknown');
  });

  it('may wait with its seasons', () => {
    const read: string[] = [];
    const reader = new LedgerReader((file) => {
      read.push(file.path);
      return readYaml(file);
    });
    const all = [...decoded({ ...files, 'seasons/2026.yaml': CHANGED }).values()];
    const later = reader.readLater(all);
    expect(later.ledger?.trees.size).toBeGreaterThan(0);
    expect(read.sort()).toEqual(['cultivars.yaml', 'ledger.yaml', 'trees.yaml']);
    const whole = new LedgerReader(readYaml).read(all);
    expect(later.diagnostics).toEqual(whole.diagnostics);
    expect({ ...later.ledger }).toEqual(whole.ledger);
  });
});
