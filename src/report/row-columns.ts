import type { By, RecordGroup } from '../measure/group-records.ts';
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
const DROPS: Readonly<Record<By, number>> = { tree: 30, cultivar: 0, site: 28, season: 29 };

/** A column of what rows stand for. */
export function rowColumn(key: By | 'crop', by: readonly By[]): Column {
  const drop = key === 'crop' || by.includes(key) ? 0 : DROPS[key];
  return textColumn(key, { label: LABELS[key], drop });
}

/**
 * The columns of what rows stand for that a report always has, and of what else it is asked for
 * `by`, in one order: tree, cultivar, site, season, crop.
 */
export function rowColumns(always: readonly (By | 'crop')[], by: readonly By[]): Column[] {
  const keys = ['tree', 'cultivar', 'site', 'season', 'crop'] as const;
  return keys
    .filter((key) => always.includes(key) || (key !== 'crop' && by.includes(key)))
    .map((key) => rowColumn(key, by));
}

/**
 * Hides from people, not from machines, what tells them nothing: the trees of a row that does not
 * stand for a tree (their number stands in a column of its own), and a site or season that would be
 * the same in every row.
 */
export function forPeople(
  columns: readonly Column[],
  rows: readonly Row[],
  by: readonly By[],
): Column[] {
  return columns.map((column) => {
    const { key } = column;
    const tells = key === 'tree' ? [] : rows.map((row) => row[key]);
    const spare = key === 'tree' || key === 'site' || key === 'season';
    return spare && !by.includes(key) && new Set(tells).size < 2
      ? { ...column, machineOnly: true }
      : column;
  });
}
