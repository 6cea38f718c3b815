import { type IsoDate, parseIsoDate } from '../../model/dates.ts';
import type { Ledger } from '../../model/ledger.ts';
import type { NewEntry } from '../new-entry.ts';
import { guessCrop } from '../shorthand/guess-crop.ts';
import { findTree } from '../shorthand/names.ts';
import { type CellReading, type CellValue, readCell } from './cells.ts';
import {
  type CellKind,
  COLUMN_FIELDS,
  type ColumnField,
  type ColumnTarget,
  type TableSection,
} from './columns.ts';
import type { TextRow } from './read-table.ts';

/** A column that is read. */
export interface Column {
  readonly at: number;
  readonly header: string;
  readonly target: ColumnTarget;
  /** Absent where the cells are scores of a trait. */
  readonly field: ColumnField | undefined;
  readonly isTrait: boolean;
}

/** The entry of a row, or every reason why it has none. */
export function entryOfRow(
  row: TextRow,
  columns: readonly Column[],
  reading: CellReading,
  { section, fixed }: { section: TableSection; fixed: Readonly<Record<string, string>> },
  before: readonly NewEntry[],
): NewEntry | { readonly reasons: readonly string[] } {
  const reasons: string[] = [];
  const values: Record<string, unknown> = {};
  const scores: Record<string, number> = {};
  const put = (key: string, name: string, cell: CellValue) => {
    if ('reason' in cell) reasons.push(`${name}: ${cell.reason}`);
    // Fruit weighed one by one may have a column each.
    else if (Array.isArray(values[key])) values[key] = [values[key], cell.value].flat();
    else values[key] = cell.value;
  };
  for (const field of COLUMN_FIELDS[section]) {
    const own = columns.filter(({ target }) => target.to === field.key);
    const filled = own.filter(({ at }) => (row.cells[at] ?? '') !== '');
    const fallback = fixed[field.key] ?? '';
    if (filled.length === 0) {
      if (fallback !== '') put(field.key, field.key, readCell(fallback, field.holds, reading));
      else if (field.needed === true) reasons.push(`${own[0]?.header ?? field.key} is empty`);
      continue;
    }
    const holds = own.length > 1 ? inOwnColumns(field.holds) : field.holds;
    for (const { at, header, target } of filled) {
      put(field.key, header, readCell(row.cells[at] ?? '', holds, reading, target.unit));
    }
  }
  for (const { at, header, target, isTrait } of columns) {
    const text = row.cells[at] ?? '';
    if (!isTrait || text === '') continue;
    const cell = readCell(text, { kind: 'number' }, reading);
    const { low, high } = reading.ledger.trial.scale;
    if ('reason' in cell) reasons.push(`${header}: ${cell.reason}`);
    else if (Number(cell.value) < low || Number(cell.value) > high) {
      reasons.push(`${header}: ${text} is off the scale, which runs from ${low} to ${high}`);
    } else scores[target.to] = Number(cell.value);
  }
  if (section !== 'growth' && values['crop'] === undefined && reasons.length === 0) {
    const crop = cropFor(values, reading.ledger, before);
    if (crop === undefined) reasons.push('the crop is not given, and two can be meant');
    else values['crop'] = crop;
  }
  reasons.push(...rowProblems(section, values, scores));
  return reasons.length > 0 ? { reasons } : made(section, values, scores);
}

/** Where each fruit has a column of its own, a comma in a cell does not part two. */
function inOwnColumns(holds: CellKind): CellKind {
  return holds.kind === 'amount' && holds.list !== undefined ? { ...holds, list: 'blanks' } : holds;
}

function cropFor(
  values: Readonly<Record<string, unknown>>,
  ledger: Ledger,
  before: readonly NewEntry[],
): string | undefined {
  const tree = findTree(ledger, String(values['tree']));
  const date: IsoDate | undefined = parseIsoDate(String(values['on']));
  if (tree.kind !== 'one' || date === undefined) return undefined;
  return guessCrop(ledger, tree.thing, date, before)?.crop;
}

function rowProblems(
  section: TableSection,
  values: Readonly<Record<string, unknown>>,
  scores: Readonly<Record<string, number>>,
): readonly string[] {
  const { fruit, weights, weight, girth, height, taster } = values;
  if (section === 'picks') {
    if (fruit === undefined && weights === undefined) {
      return [
        weight === undefined
          ? 'neither fruit nor weights are given'
          : 'the weight of a pick needs its number of fruit; if each row is one fruit, the column gives weights',
      ];
    }
    const weighed = Array.isArray(weights) ? weights.length : 0;
    if (typeof fruit === 'number' && weighed > fruit) {
      return [`there are ${weighed} weights, but fruit is ${fruit}`];
    }
  }
  if (section === 'growth' && girth === undefined && height === undefined) {
    return ['neither girth nor height is given'];
  }
  const unsigned = section === 'tastings' && Object.keys(scores).length > 0 && taster === undefined;
  return unsigned ? ['the scores have no taster'] : [];
}

function made(
  section: TableSection,
  values: Readonly<Record<string, unknown>>,
  scores: Readonly<Record<string, number>>,
): NewEntry {
  if (section !== 'tastings') return { section, entry: values } as unknown as NewEntry;
  const { on, taster, ...sample } = values;
  const label = String(sample['as'] ?? sample['tree']);
  const scored =
    Object.keys(scores).length > 0 ? { [String(taster)]: { [label]: scores } } : undefined;
  const entry = { on, samples: [sample], ...(scored === undefined ? {} : { scores: scored }) };
  return { section, entry } as unknown as NewEntry;
}
