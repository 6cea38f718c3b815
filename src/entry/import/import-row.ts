import type { Section } from '../../entries/catalogue.ts';
import { type IsoDate, parseIsoDate } from '../../model/dates.ts';
import { DEFECTS } from '../../model/entries.ts';
import type { Ledger } from '../../model/ledger.ts';
import { bareUnit } from '../../model/quantity.ts';
import type { NewEntry } from '../new-entry.ts';
import { guessCrop } from '../shorthand/guess-crop.ts';
import { findTree } from '../shorthand/names.ts';
import { type CellReading, type CellValue, readCell } from './cells.ts';
import { type CellKind, type ColumnField, type ColumnTarget, columnFields } from './columns.ts';
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
  { section, fixed }: { section: Section; fixed: Readonly<Record<string, string>> },
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
  for (const field of columnFields(section)) {
    const own = columns.filter(({ target }) => target.to === field.key);
    const filled = own.filter(({ at }) => (row.cells[at] ?? '') !== '');
    const fallback = fixed[field.key] ?? '';
    if (filled.length === 0) {
      if (fallback !== '') put(field.key, field.key, readCell(fallback, field.holds, reading));
      else if (field.needed) reasons.push(`${own[0]?.header ?? field.key} is empty`);
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
    if ('reason' in cell) reasons.push(`${header}: ${cell.reason}`);
    else putScore(target.to, header, Number(cell.value), scores, reading, reasons);
  }
  if (section === 'tastings') takeScore(values, scores, reading, reasons);
  if (
    section !== 'growth' &&
    section !== 'events' &&
    values['crop'] === undefined &&
    reasons.length === 0
  ) {
    const crop = cropFor(values, reading.ledger, before);
    if (crop === undefined) reasons.push('the crop is not given, and two can be meant');
    else values['crop'] = crop;
  }
  reasons.push(...rowProblems(section, values, scores));
  return reasons.length > 0 ? { reasons } : made(section, values, scores, reading);
}

/** A score of a table that has a row for each: the trait in one column, the score in another. */
function takeScore(
  values: Record<string, unknown>,
  scores: Record<string, number>,
  reading: CellReading,
  reasons: string[],
): void {
  const { trait, score } = values;
  delete values['trait'];
  delete values['score'];
  if (trait === undefined && score === undefined) return;
  const { traits } = reading.ledger.trial;
  const known = traits.find((one) => one.toLowerCase() === String(trait ?? '').toLowerCase());
  if (trait === undefined || score === undefined) reasons.push('a score needs its trait beside it');
  else if (known === undefined) {
    reasons.push(`${trait} is none of the traits ${traits.join(', ')}`);
  } else putScore(known, 'score', Number(score), scores, reading, reasons);
}

function putScore(
  trait: string,
  header: string,
  value: number,
  scores: Record<string, number>,
  { ledger }: CellReading,
  reasons: string[],
): void {
  const { low, high } = ledger.trial.scale;
  if (value < low || value > high) {
    reasons.push(`${header}: ${value} is off the scale, which runs from ${low} to ${high}`);
  } else scores[trait] = value;
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
  section: Section,
  values: Readonly<Record<string, unknown>>,
  scores: Readonly<Record<string, number>>,
): readonly string[] {
  const { fruit, weights, weight, girth, height, taster, word } = values;
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
  if (section !== 'tastings' || taster !== undefined) return [];
  if (Object.keys(scores).length > 0) return ['the scores have no taster'];
  return word === undefined ? [] : ['the words have no taster'];
}

function made(
  section: Section,
  values: Record<string, unknown>,
  scores: Readonly<Record<string, number>>,
  reading: CellReading,
): NewEntry {
  switch (section) {
    case 'tastings':
      return { section, entry: tastingOf(values, scores) } as unknown as NewEntry;
    case 'events':
      return { section, entry: eventOf(values, reading) } as unknown as NewEntry;
    case 'picks':
      return { section, entry: pickOf(values, reading) } as unknown as NewEntry;
    default:
      return { section, entry: values } as unknown as NewEntry;
  }
}

function tastingOf(
  { on, taster, word: words, ...rest }: Readonly<Record<string, unknown>>,
  scores: Readonly<Record<string, number>>,
): Readonly<Record<string, unknown>> {
  // A sample without a label of its own goes by its tree.
  const { as, ...bare } = rest;
  const sample = as === rest['tree'] ? bare : rest;
  const label = String(as ?? rest['tree']);
  const sheet = (said: unknown) => ({ [String(taster)]: { [label]: said } });
  return {
    on,
    samples: [sample],
    ...(Object.keys(scores).length === 0 ? {} : { scores: sheet(scores) }),
    ...(words === undefined ? {} : { words: sheet(words) }),
  };
}

/** Exported tables say what a grower leaves unsaid: no defect, as many fruit as weights. */
function pickOf(
  values: Readonly<Record<string, unknown>>,
  { isExported }: CellReading,
): Readonly<Record<string, unknown>> {
  if (!isExported) return values;
  const { fruit, weights } = values;
  const isSaid = (key: string) =>
    key === 'fruit'
      ? !Array.isArray(weights) || weights.length !== fruit
      : values[key] !== 0 || !(DEFECTS as readonly string[]).includes(key);
  return Object.fromEntries(Object.entries(values).filter(([key]) => isSaid(key)));
}

/** A tree moves to a site; a pot is written with its size and unit. */
function eventOf(
  { moved_to: goal, pot_volume: size, ...event }: Readonly<Record<string, unknown>>,
  { ledger }: CellReading,
): Readonly<Record<string, unknown>> {
  const unit = bareUnit(ledger.trial.units, 'volume');
  return {
    ...event,
    ...(goal === undefined ? {} : { site: goal }),
    ...(size === undefined
      ? {}
      : { container: typeof size === 'number' ? `${size} ${unit}` : size }),
  };
}
