import { bareUnit } from '../../model/quantity.ts';
import { freeKey, keyFrom, type Listing } from '../listing.ts';
import type { FileMap } from '../new-entry.ts';
import { findCultivar } from '../shorthand/names.ts';
import { type CellReading, isNothing, readCell } from './cells.ts';
import { columnFields, type ListedKind } from './columns.ts';
import type { ReadColumn } from './import-row.ts';
import type { TextRow } from './read-table.ts';

type Made = { readonly entry: Listing } | { readonly reasons: readonly string[] };

/** The cultivar or the tree of a row, or every reason why it has none. */
export function listingOfRow(
  row: TextRow,
  columns: readonly ReadColumn[],
  reading: CellReading,
  { section, fixed }: { section: ListedKind; fixed: Readonly<Record<string, string>> },
  before: readonly Listing[],
): Made {
  const reasons: string[] = [];
  const values: Record<string, unknown> = {};
  for (const { key, holds, needed } of columnFields(section)) {
    const own = columns.find(({ target }) => target.to === key);
    const cell = own === undefined ? '' : (row.cells[own.at] ?? '');
    const text = isNothing(cell) ? (fixed[key] ?? '') : cell;
    if (text === '') {
      if (needed) reasons.push(`${own?.header ?? key} is empty`);
      continue;
    }
    // The size of a pot may have its unit in the header.
    const isSize = key === 'container' && /^\d[\d.,]*$/.test(text);
    const kind = isSize ? ({ kind: 'amount', dimension: 'volume' } as const) : holds;
    const read = readCell(text, kind, reading, own?.target.unit);
    // A cultivar may be doubted to be another one of the same table; the checks see whether it is there.
    if (key === 'perhaps' && 'reason' in read) values[key] = keyFrom(text);
    else if ('reason' in read) reasons.push(`${own?.header ?? key}: ${read.reason}`);
    else if ('value' in read) values[key] = read.value;
  }
  if (reasons.length > 0) return { reasons };
  return section === 'cultivars' ? cultivarOf(values, reading, before) : treeOf(values, reading);
}

function cultivarOf(values: FileMap, { ledger }: CellReading, before: readonly Listing[]): Made {
  const { key: given, name, bears, also, perhaps, why, ...rest } = values;
  const twin = before.find(
    ({ entry }) => typeof entry !== 'string' && sameName(String(entry['name']), String(name)),
  );
  if (twin !== undefined && given === undefined) {
    return { reasons: [`${name} is in the table twice; give a key if these are two`] };
  }
  const named = findCultivar(ledger, String(name));
  const known = named.kind === 'one' ? named.thing.key : undefined;
  const isTaken = (one: string) =>
    ledger.cultivars.has(one) || before.some(({ key }) => key === one);
  const key = String(given ?? known ?? freeKey(String(name), isTaken));
  if (key === '') return { reasons: [`${name} has no letters to make a key of`] };
  if (why !== undefined && perhaps === undefined) {
    return { reasons: ['why belongs to a doubt, and no cultivar that it may be is named'] };
  }
  const entry = {
    name,
    // A ledger that has it says already what it bears.
    ...(bears === undefined && ledger.cultivars.has(key) ? {} : { bears: bears ?? 'unknown' }),
    ...(also === undefined ? {} : { also }),
    ...(perhaps === undefined
      ? {}
      : { perhaps: { same_as: perhaps, ...(why === undefined ? {} : { why }) } }),
    ...rest,
  };
  return { entry: { section: 'cultivars', key, entry } };
}

function sameName(one: string, other: string): boolean {
  return one.toLowerCase() === other.toLowerCase();
}

function treeOf(values: FileMap, { ledger }: CellReading): Made {
  const { id, pot_volume: size, container, site, ...rest } = values;
  const { sites, units } = ledger.trial;
  const [only, ...others] = sites.keys();
  if (site === undefined && (only === undefined || others.length > 0)) {
    return {
      reasons: [`where it stands is not given; the sites are ${[...sites.keys()].join(', ')}`],
    };
  }
  const volume = size ?? container;
  const pot = typeof volume === 'number' ? `${volume} ${bareUnit(units, 'volume')}` : volume;
  const entry = {
    ...rest,
    site: site ?? only,
    ...(pot === undefined ? {} : { container: pot }),
  };
  return { entry: { section: 'trees', key: String(id), entry } };
}
