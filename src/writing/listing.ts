import type { tree } from '../entries/tree.ts';
import { type IsoDate, seasonOf } from '../model/dates.ts';
import { FRAME_FILES } from '../model/ledger.ts';
import type { SchemaName } from '../reading/schema-files.ts';
import type { FileMap, NewEntry } from './new-entry.ts';
import { seasonPath } from './season-file.ts';

/**
 * Something that is listed once and for all, as it will stand in its file: a cultivar, a tree, and in
 * `ledger.yaml` a taster (by name), a site or a setting. A removal is the day on which a tree that is
 * listed was taken out, under its id.
 */
export type Listing =
  | {
      readonly section: 'cultivars' | 'trees' | 'sites';
      readonly key: string;
      readonly entry: FileMap;
    }
  | {
      readonly section: 'tasters' | 'settings' | 'removals';
      readonly key: string;
      readonly entry: string;
    };

/** What a typed line or a row of a table adds to the ledger. */
export type Entered = NewEntry | Listing;

/** The lists in the order in which they are written: what others name comes first. */
export const LISTINGS = ['settings', 'tasters', 'sites', 'cultivars', 'trees', 'removals'] as const;

const FILES: Readonly<Record<Listing['section'], SchemaName>> = {
  settings: 'ledger',
  tasters: 'ledger',
  sites: 'ledger',
  cultivars: 'cultivars',
  trees: 'trees',
  removals: 'trees',
};

export function isListing(one: Entered): one is Listing {
  return 'key' in one;
}

export function isSeasonEntry(one: Entered): one is NewEntry {
  return !isListing(one);
}

/** What is entered by the file it belongs to: lists before the seasons that name what is in them. */
export function byFile<One extends Entered>(
  entered: readonly One[],
  latitude: number | undefined,
): ReadonlyMap<string, readonly One[]> {
  const files = new Map<string, One[]>();
  for (const one of entered) {
    const path = isListing(one)
      ? `${FILES[one.section]}.yaml`
      : seasonPath(seasonOf(one.entry.on as IsoDate, latitude));
    files.set(path, [...(files.get(path) ?? []), one]);
  }
  const rank = (path: string) => FRAME_FILES.indexOf(path);
  return new Map(
    [...files].sort(([a], [b]) => {
      const [left, right] = [rank(a), rank(b)];
      if (left >= 0 && right >= 0) return left - right;
      return left >= 0 ? -1 : right >= 0 ? 1 : a < b ? -1 : 1;
    }),
  );
}

/** Where it stands in its file, as a path of keys. */
export function pathOfListing({ section, key }: Listing): readonly [string, ...string[]] {
  if (section === 'removals') return [key, REMOVED];
  return section === 'tasters' || section === 'sites' ? [section, key] : [key];
}

export const REMOVED = 'removed' satisfies keyof typeof tree.fields;

export function isListFile(path: string): boolean {
  return FRAME_FILES.includes(path);
}

/** A short key of a name: small letters, without marks, with hyphens for what is between words. */
export function keyFrom(name: string): string {
  return name
    .toLowerCase()
    .normalize('NFD')
    .replaceAll(/[\p{M}'\u2019]/gu, '')
    .normalize('NFC')
    .replaceAll(/[^\p{L}\p{N}]+/gu, '-')
    .replaceAll(/^-+|-+$/g, '');
}

/** The key of a name, with a number behind it where it is taken. */
export function freeKey(name: string, isTaken: (key: string) => boolean): string {
  const base = keyFrom(name);
  let key = base;
  for (let next = 2; isTaken(key); next++) key = `${base}-${next}`;
  return key;
}
