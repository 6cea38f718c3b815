import { BYS, type By, type RecordGroup, type RowBy } from '../measure/group-records.ts';
import type { Ledger } from '../model/ledger.ts';
import { textColumn } from './columns.ts';
import { cultivarName, siteName } from './names.ts';
import type { Cell, Column, Row } from './table.ts';
import { counted, yearsInWords } from './words.ts';

/** A row that spans more names than this says how many there are. */
const MOST_NAMES = 6;

/** What a row stands for, as cells; a row that spans several trees, sites ... names them all. */
export function rowCells(ledger: Ledger, group: RecordGroup): Record<By | 'crop', Cell> {
  return {
    tree: spanned(
      group.trees.map((tree) => tree.id),
      'tree',
    ),
    cultivar: spanned(
      group.cultivars.map((cultivar) => cultivarName(ledger, cultivar)),
      'cultivar',
    ),
    site: spanned(
      group.sites.map((key) => siteName(ledger, key)),
      'site',
    ),
    season: yearsInWords(group.seasons, '-'),
    crop: group.crops.join(', '),
  };
}

function spanned(names: readonly string[], noun: string): string {
  return names.length > MOST_NAMES ? counted(names.length, noun) : names.join(', ');
}

const LABELS: Readonly<Record<By | 'crop', string>> = {
  tree: 'Tree',
  cultivar: 'Cultivar',
  site: 'Site',
  season: 'Season',
  crop: 'Crop',
};

/** Where a column that the rows do not stand for goes from a narrow page; see `Column.drop`. */
const DROPS: Readonly<Record<By, number>> = { tree: 30, cultivar: 0, site: 5, season: 29 };

/** A column of what rows stand for. */
export function rowColumn(key: By | 'crop', by: readonly By[]): Column {
  const drop = key === 'crop' || by.includes(key) ? 0 : DROPS[key];
  const column = textColumn(key, { label: LABELS[key], drop });
  return key === 'cultivar' ? { ...column, whole: true } : column;
}

/**
 * The columns of what rows stand for that a report always has, and of what else it is asked for
 * `by`, in one order: tree, cultivar, site, season, crop.
 */
export function rowColumns(always: readonly (By | 'crop')[], by: readonly By[]): Column[] {
  const keys = [...BYS, 'crop'] as const;
  return keys
    .filter((key) => always.includes(key) || (key !== 'crop' && by.includes(key)))
    .map((key) => rowColumn(key, by));
}

/**
 * Hides from people, not from machines, what tells them nothing: a column that is blank in every
 * row, unless it is one that always shows; the trees of a row that does not stand for a tree (their
 * number stands in a column of its own); a site or season that is the same in every row.
 */
export function forPeople(
  columns: readonly Column[],
  rows: readonly Row[],
  by: readonly RowBy[],
): Column[] {
  if (rows.length === 0) return [...columns];
  return columns.map((column) =>
    tellsPeople(column, rows, by) ? column : { ...column, machineOnly: true },
  );
}

function tellsPeople({ key, drop }: Column, rows: readonly Row[], by: readonly RowBy[]): boolean {
  if (key === 'tree') return by.includes('tree');
  if (key === 'site' || key === 'season') {
    return by.includes(key) || new Set(rows.map((row) => row[key])).size > 1;
  }
  return drop === 0 || rows.some((row) => (row[key] ?? null) !== null);
}

/** A cell of a report that may hold a number; undefined where it does not, or where there is no row. */
export function numberIn(row: Row | undefined, key: string): number | undefined {
  const value = row?.[key];
  return typeof value === 'number' ? value : undefined;
}

/** A cell of a report as text; empty where there is none. */
export function textIn(row: Row, key: string): string {
  const value = row[key];
  return value === null || value === undefined ? '' : String(value);
}
