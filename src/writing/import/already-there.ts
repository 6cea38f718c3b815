import { CATALOGUE } from '../../entries/catalogue.ts';
import type { RawTasting } from '../../entries/derive/schemas.ts';
import type { Field } from '../../entries/field.ts';
import { DEFECTS } from '../../model/entries.ts';
import type { Ledger } from '../../model/ledger.ts';
import { type Dimension, parseQuantity } from '../../model/quantity.ts';
import { type Listing, pathOfListing } from '../listing.ts';
import { mergeTasting } from '../merge-tasting.ts';
import { type FileMap, isFileMap, type NewEntry } from '../new-entry.ts';
import { sameValue } from '../same-value.ts';
import { findCrop, findTree } from '../shorthand/names.ts';

/**
 * Which entries a season file has already, whatever the order of their keys and the unit of their
 * weights. An entry that stands there once answers for one new entry; what a sitting says already
 * answers for every row that says it again.
 *
 * @param season what the file of the entries' season says
 */
export function alreadyThere(
  entries: readonly NewEntry[],
  season: unknown,
  ledger: Ledger,
): ReadonlySet<NewEntry> {
  const known = new Map<string, number>();
  const items = (section: string) => {
    const list = isFileMap(season) ? season[section] : undefined;
    return Array.isArray(list) ? list.filter(isFileMap) : [];
  };
  for (const section of new Set(entries.map((one) => one.section))) {
    for (const item of items(section)) {
      const key = `${section} ${plainText(item, ledger)}`;
      known.set(key, (known.get(key) ?? 0) + 1);
    }
  }
  return new Set(
    entries.filter((one) => {
      if (one.section === 'tastings') return isTasted(one.entry, items('tastings'), ledger);
      const key = `${one.section} ${plainText(one.entry, ledger)}`;
      const left = known.get(key) ?? 0;
      known.set(key, left - 1);
      return left > 0;
    }),
  );
}

/** What of the lists a file has already, with everything that is said of it here. */
export function listingsThere(listings: readonly Listing[], file: unknown): ReadonlySet<Listing> {
  return new Set(
    listings.filter((one) => {
      const { entry } = one;
      const known = pathOfListing(one).reduce<unknown>(
        (within, key) =>
          isFileMap(within) && Object.hasOwn(within, key) ? within[key] : undefined,
        file,
      );
      if (typeof entry === 'string') return known === entry;
      if (!isFileMap(known)) return false;
      return Object.entries(entry).every(([field, value]) => sameValue(known[field], value));
    }),
  );
}

function isTasted(added: RawTasting, sittings: readonly FileMap[], ledger: Ledger): boolean {
  return sittings.some((one) => {
    if (one['on'] !== added.on || !Array.isArray(one['samples'])) return false;
    const merge = mergeTasting(one as unknown as RawTasting, added, ledger.trial.cropNames);
    if ('conflicts' in merge) return false;
    const { fields, newSamples, sampleFields, scores, words, order } = merge;
    const more = [fields, scores, words, order].some((map) => Object.keys(map).length > 0);
    return !more && newSamples.length === 0 && sampleFields.size === 0;
  });
}

/** The dimension of every field that is an amount; a key has the same one wherever it stands. */
const DIMENSIONS: ReadonlyMap<string, Dimension> = new Map(
  Object.values(CATALOGUE).flatMap(({ fields }) =>
    Object.entries<Field>(fields).flatMap(([key, { holds }]): [string, Dimension][] =>
      holds.kind === 'amount' ? [[key, holds.dimension]] : [],
    ),
  ),
);

/** An entry in one form: keys in order, units done away with, what goes without saying left out. */
function plainText(entry: FileMap | object, ledger: Ledger): string {
  const fields = Object.entries(entry).flatMap(([key, value]): [string, unknown][] => {
    if (value === undefined || value === null) return [];
    if ((DEFECTS as readonly string[]).includes(key) && value === 0) return [];
    return [[key, plainValue(key, value, ledger)]];
  });
  const plain: Record<string, unknown> = Object.fromEntries(fields);
  const { weights } = plain;
  if (Array.isArray(weights) && plain['fruit'] === undefined) plain['fruit'] = weights.length;
  return JSON.stringify(Object.entries(plain).sort(([a], [b]) => (a < b ? -1 : 1)));
}

function plainValue(key: string, value: unknown, ledger: Ledger): unknown {
  const dimension = DIMENSIONS.get(key);
  if (Array.isArray(value)) return value.map((one) => plainValue(key, one, ledger));
  if (key === 'crop') return findCrop(ledger, String(value)) ?? value;
  if (key === 'tree') {
    const tree = findTree(ledger, String(value));
    return tree.kind === 'one' ? tree.thing.id : String(value);
  }
  const isAmount = typeof value === 'number' || typeof value === 'string';
  if (dimension === undefined || !isAmount) return value;
  return parseQuantity(value, dimension, ledger.trial.units) ?? value;
}
