import type { CellField, Holds } from '../../entries/field.ts';
import type { Said } from '../../entries/kind.ts';
import type { Tree } from '../../model/collection.ts';
import type { IsoDate } from '../../model/dates.ts';
import type { Crop, Ledger, Season } from '../../model/ledger.ts';
import { baseUnit } from '../../model/quantity.ts';
import { siteOn } from '../../model/standing.ts';
import type { Cell } from '../table.ts';
import {
  column,
  dayField,
  type ExportColumn,
  type ExportField,
  type ExportKind,
  textField,
  wholeField,
} from './export-table.ts';

/** An entry with the id that other tables know it by. */
export interface NumberedEntry<Entry> {
  readonly id: string;
  readonly entry: Entry;
}

/**
 * The entries of a section in all seasons. An id counts up by date, so it holds as long as nothing
 * earlier is entered; it begins with a word, since spreadsheets take 2026-3 for a month.
 */
export function numberedEntries<Entry>(
  ledger: Ledger,
  noun: string,
  section: (season: Season) => readonly Entry[],
): readonly NumberedEntry<Entry>[] {
  return ledger.seasons.flatMap((season) =>
    section(season).map((entry, index) => ({ id: `${noun}-${season.year}-${index + 1}`, entry })),
  );
}

interface Dated {
  readonly season: number;
  readonly on: IsoDate;
}

export interface OfTree extends Dated {
  readonly tree: Tree;
}

interface OfCrop extends OfTree {
  readonly crop: Crop;
}

/** Which entry a row is, or belongs to. */
export function entryField<Thing extends NumberedEntry<unknown>>(
  refersTo?: string,
): ExportField<Thing> {
  const about = refersTo === undefined ? 'Id of the entry.' : 'Id of the entry it belongs to.';
  return textField(
    column('entry', about, refersTo === undefined ? {} : { refersTo }),
    ({ id }) => id,
  );
}

export function datedFields<Thing extends NumberedEntry<Dated>>(): readonly ExportField<Thing>[] {
  return [seasonField(({ entry }) => entry.season), dateField(({ entry }) => entry.on)];
}

export function treeFields<Thing extends NumberedEntry<OfTree>>(): readonly ExportField<Thing>[] {
  return [
    ...datedFields<Thing>(),
    treeField(({ entry }) => entry.tree),
    cultivarField(({ entry }) => entry.tree),
    textField(
      column('site', 'Where the tree stood that day.', { refersTo: 'sites.site' }),
      ({ entry }, ledger) => siteOn(ledger, entry.tree, entry.on),
    ),
  ];
}

export function cropFields<Thing extends NumberedEntry<OfCrop>>(): readonly ExportField<Thing>[] {
  return [...treeFields<Thing>(), cropField(({ entry }) => entry.crop)];
}

export function seasonField<Thing>(of: (thing: Thing) => number): ExportField<Thing> {
  return wholeField(column('season', 'Growing year.', { refersTo: 'seasons.season' }), of);
}

export function dateField<Thing>(of: (thing: Thing) => IsoDate): ExportField<Thing> {
  return dayField(column('date', 'Day.'), of);
}

export function treeField<Thing>(of: (thing: Thing) => Tree | undefined): ExportField<Thing> {
  return textField(column('tree', 'Tree.', { refersTo: 'trees.tree' }), (thing) => of(thing)?.id);
}

export function cultivarField<Thing>(of: (thing: Thing) => Tree | undefined): ExportField<Thing> {
  return textField(
    column('cultivar', 'Cultivar of the tree.', { refersTo: 'cultivars.cultivar' }),
    (thing) => of(thing)?.cultivar.key,
  );
}

export function cropField<Thing>(of: (thing: Thing) => Crop | undefined): ExportField<Thing> {
  return textField(column('crop', 'early or main.'), of);
}

/** Columns that follow from a field or stand for it in more detail, by the key they stand behind. */
export type Following<Thing> = Readonly<Record<string, readonly ExportField<Thing>[]>>;

/**
 * The columns that the fields of an entry have by themselves, in the order of `keys`.
 *
 * @param of what the entry of a row says, by the keys of its fields
 */
export function ownColumns<Thing>(
  fields: Readonly<Record<string, CellField>>,
  of: (thing: Thing) => Said,
  following: Following<Thing> = {},
  keys: readonly string[] = Object.keys(fields),
): readonly ExportField<Thing>[] {
  return keys.flatMap((key) => {
    const sketch = exportedColumn(key, fields[key]);
    const own =
      sketch === undefined ? [] : [{ ...sketch, of: (thing: Thing) => cellOf(of(thing)[key]) }];
    return [...own, ...(following[key] ?? [])];
  });
}

/** The column of a field, if it has one by itself. */
function exportedColumn(fieldKey: string, field: CellField | undefined): ExportColumn | undefined {
  if (field?.column === undefined) return undefined;
  const { holds, column } = field;
  const { key = fieldKey, about, unit = unitOf(holds) } = column;
  return {
    ...{ key, about },
    ...(unit === undefined ? {} : { unit }),
    ...(REFERENCES[holds.kind] === undefined ? {} : { refersTo: REFERENCES[holds.kind] }),
    ...(holds.kind === 'amount' && holds.isList ? { isNumbers: true } : {}),
    kind: kindOf(holds),
  };
}

/** The column that lists what a field refers to. */
const REFERENCES: Readonly<Partial<Record<Holds['kind'], string>>> = {
  site: 'sites.site',
  cultivar: 'cultivars.cultivar',
};

function unitOf(holds: Holds): string | undefined {
  return holds.kind === 'amount' ? baseUnit(holds.dimension) : undefined;
}

function kindOf(holds: Holds): ExportKind {
  switch (holds.kind) {
    case 'date':
      return 'date';
    case 'whole':
      return 'integer';
    case 'number':
      return 'number';
    case 'yes or no':
      return 'boolean';
    case 'amount':
      return holds.isList ? 'text' : 'number';
    default:
      return 'text';
  }
}

/** Several numbers stand with spaces between. */
function cellOf(value: unknown): Cell | undefined {
  return (Array.isArray(value) ? value.join(' ') : value) as Cell | undefined;
}
