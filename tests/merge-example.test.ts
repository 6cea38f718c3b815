import { expect, test } from 'vitest';
import { SECTIONS } from '../src/entries/catalogue.ts';
import { readYaml } from '../src/reading/yaml-read.ts';
import { mergeTexts } from '../src/writing/merge/merge-texts.ts';
import type { NewEntry } from '../src/writing/new-entry.ts';
import { placeEntries } from '../src/writing/place-entries.ts';
import { exampleFiles } from './support/example-files.ts';

const example = exampleFiles();
const seasons = Object.keys(example).filter((path) => path.startsWith('seasons/'));

type Sitting = {
  readonly on: string;
  readonly samples: readonly unknown[];
  readonly scores?: Readonly<Record<string, unknown>>;
  readonly words?: Readonly<Record<string, unknown>>;
  readonly order?: Readonly<Record<string, unknown>>;
};

function read(path: string, text: string): Readonly<Record<string, readonly unknown[]>> {
  return readYaml({ path, text, bom: false }).value as Record<string, readonly unknown[]>;
}

/** The tasters of a sitting dealt out: what each of two people wrote down of it. */
function dealt(sitting: Sitting, side: 0 | 1): Sitting {
  const tasters = Object.keys({ ...sitting.scores, ...sitting.words, ...sitting.order }).sort();
  const own = (map: Readonly<Record<string, unknown>> = {}) =>
    Object.fromEntries(Object.entries(map).filter(([key]) => tasters.indexOf(key) % 2 === side));
  const { scores, words, order, ...rest } = sitting;
  return {
    ...rest,
    ...(scores === undefined ? {} : { scores: own(scores) }),
    ...(words === undefined ? {} : { words: own(words) }),
    ...(order === undefined ? {} : { order: own(order) }),
  };
}

/** In an order of their own, keys as well, without maps in which nothing stands. */
function plain(value: unknown): unknown {
  if (Array.isArray(value)) return value.map(plain);
  if (typeof value !== 'object' || value === null) return value;
  const pairs = Object.entries(value).filter(
    ([, inner]) => typeof inner !== 'object' || inner === null || Object.keys(inner).length > 0,
  );
  return Object.fromEntries(
    pairs
      .map(([key, inner]) => [key, plain(inner)])
      .sort(([a], [b]) => (String(a) < String(b) ? -1 : 1)),
  );
}

function sorted(list: readonly unknown[] = []): readonly string[] {
  return list.map((one) => JSON.stringify(plain(one))).sort();
}

test.each(seasons)(
  '%s, written down by two people in turns, is whole again when joined',
  (path) => {
    const whole = read(path, example[path] ?? '');
    const base = `season: ${path.slice(8, 12)}\n`;
    const side = (own: 0 | 1): string => {
      const entries = SECTIONS.flatMap((section) =>
        (whole[section] ?? []).flatMap((entry, index): readonly object[] => {
          if (section === 'tastings') return [{ section, entry: dealt(entry as Sitting, own) }];
          return index % 2 === own ? [{ section, entry }] : [];
        }),
      ) as unknown as NewEntry[];
      const placed = placeEntries({ path, text: base, bom: false }, entries);
      if (placed.kind !== 'placed') throw new Error(placed.diagnostics[0]?.message ?? '');
      return placed.file.text;
    };
    const [ours, theirs] = [side(0), side(1)];
    const joined = mergeTexts(path, { base, ours, theirs });
    expect([joined.why, joined.conflicts]).toEqual([undefined, []]);
    const after = read(path, joined.text);
    for (const section of SECTIONS) {
      expect(sorted(after[section]), section).toEqual(sorted(whole[section]));
    }
    expect(mergeTexts(path, { base, ours: theirs, theirs: ours })).toEqual(joined);
  },
);
