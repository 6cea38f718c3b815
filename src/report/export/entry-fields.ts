import type { Tree } from '../../model/collection.ts';
import type { IsoDate } from '../../model/dates.ts';
import type { Crop, Ledger, Season } from '../../model/ledger.ts';
import { siteOn } from '../../model/standing.ts';
import { column, day, type Field, text, whole } from './export-table.ts';

/** An entry with the id that other tables know it by. */
export interface Placed<Entry> {
  readonly id: string;
  readonly entry: Entry;
}

/**
 * The entries of a section in all seasons. An id counts up by date, so it holds as long as nothing
 * earlier is entered; it begins with a word, since spreadsheets take 2026-3 for a month.
 */
export function placed<Entry>(
  ledger: Ledger,
  noun: string,
  section: (season: Season) => readonly Entry[],
): readonly Placed<Entry>[] {
  return ledger.seasons.flatMap((season) =>
    section(season).map((entry, index) => ({ id: `${noun}-${season.year}-${index + 1}`, entry })),
  );
}

interface Dated {
  readonly season: number;
  readonly on: IsoDate;
}

interface OfTree extends Dated {
  readonly tree: Tree;
}

interface OfCrop extends OfTree {
  readonly crop: Crop;
}

/** Which entry a row is, or belongs to. */
export function entryField<Thing extends Placed<unknown>>(refersTo?: string): Field<Thing> {
  const about = refersTo === undefined ? 'Id of the entry.' : 'Id of the entry it belongs to.';
  return text(column('entry', about, refersTo === undefined ? {} : { refersTo }), ({ id }) => id);
}

export function datedFields<Thing extends Placed<Dated>>(): readonly Field<Thing>[] {
  return [seasonField(({ entry }) => entry.season), dateField(({ entry }) => entry.on)];
}

export function treeFields<Thing extends Placed<OfTree>>(): readonly Field<Thing>[] {
  return [
    ...datedFields<Thing>(),
    treeField(({ entry }) => entry.tree),
    cultivarField(({ entry }) => entry.tree),
    text(
      column('site', 'Where the tree stood that day.', { refersTo: 'sites.site' }),
      ({ entry }, ledger) => siteOn(ledger, entry.tree, entry.on),
    ),
  ];
}

export function cropFields<Thing extends Placed<OfCrop>>(): readonly Field<Thing>[] {
  return [...treeFields<Thing>(), cropField(({ entry }) => entry.crop)];
}

export function seasonField<Thing>(of: (thing: Thing) => number): Field<Thing> {
  return whole(column('season', 'Growing year.', { refersTo: 'seasons.season' }), of);
}

export function dateField<Thing>(of: (thing: Thing) => IsoDate): Field<Thing> {
  return day(column('date', 'Day.'), of);
}

export function treeField<Thing>(of: (thing: Thing) => Tree | undefined): Field<Thing> {
  return text(column('tree', 'Tree.', { refersTo: 'trees.tree' }), (thing) => of(thing)?.id);
}

export function cultivarField<Thing>(of: (thing: Thing) => Tree | undefined): Field<Thing> {
  return text(
    column('cultivar', 'Cultivar of the tree.', { refersTo: 'cultivars.cultivar' }),
    (thing) => of(thing)?.cultivar.key,
  );
}

export function cropField<Thing>(of: (thing: Thing) => Crop): Field<Thing> {
  return text(column('crop', 'early or main.'), of);
}
