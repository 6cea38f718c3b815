import { CATALOGUE } from '../../entries/catalogue.ts';
import type { Kind } from '../../entries/kind.ts';
import { type IsoDate, parseIsoDate } from '../../model/dates.ts';
import { DEFECTS } from '../../model/entries.ts';
import type { Ledger, SeasonSection } from '../../model/ledger.ts';
import { bareUnit } from '../../model/quantity.ts';
import { WHOLE_TRIAL } from '../../model/touches.ts';
import type { NewEntry } from '../new-entry.ts';
import { guessCrop } from '../shorthand/guess-crop.ts';
import { findCultivar, findTree } from '../shorthand/names.ts';
import { type CellReading, type CellValue, isNothing, readCell, readScore } from './cells.ts';
import { type CellKind, type ColumnField, type ColumnTarget, columnFields } from './columns.ts';
import type { Placing } from './place-orders.ts';
import type { TextRow } from './read-table.ts';

/** A column that is read. */
export interface ReadColumn {
  readonly at: number;
  readonly header: string;
  readonly target: ColumnTarget;
  /** Absent where the cells are scores of a trait. */
  readonly field: ColumnField | undefined;
  readonly isTrait: boolean;
}

/** The entry of a row, with the place that it gives its sample, or every reason why it has none. */
export type RowRead =
  | { readonly entry: NewEntry; readonly placing: Placing | undefined }
  | { readonly reasons: readonly string[] };

export function entryOfRow(
  row: TextRow,
  columns: readonly ReadColumn[],
  reading: CellReading,
  {
    section,
    fixed,
    ofSittings,
  }: { section: SeasonSection; fixed: Readonly<Record<string, string>>; ofSittings: boolean },
  before: readonly NewEntry[],
): RowRead {
  const reasons: string[] = [];
  const crosses: Cross[] = [];
  const textOf = ({ at }: ReadColumn) => {
    const text = row.cells[at] ?? '';
    return isNothing(text) ? '' : text;
  };
  const values: Record<string, unknown> = {};
  const scores: Record<string, number> = {};
  const put = (key: string, name: string, cell: CellValue) => {
    if ('reason' in cell) reasons.push(`${name}: ${cell.reason}`);
    else if ('some' in cell) crosses.push({ key, name });
    // Fruit weighed one by one may have a column each.
    else if (Array.isArray(values[key])) values[key] = [values[key], cell.value].flat();
    else values[key] = cell.value;
  };
  for (const field of columnFields(section)) {
    if (field.key === 'cultivar') continue;
    const own = columns.filter(({ target }) => target.to === field.key);
    const filled = own.filter((one) => textOf(one) !== '');
    const fallback = fixed[field.key] ?? '';
    if (filled.length === 0) {
      if (fallback !== '') put(field.key, field.key, readCell(fallback, field.holds, reading));
      else if (field.needed && !(ofSittings && field.key === 'tree'))
        reasons.push(`${own[0]?.header ?? field.key} is empty`);
      continue;
    }
    const holds = own.length > 1 ? inOwnColumns(field.holds) : field.holds;
    for (const one of filled) {
      const { header, target } = one;
      const text = textOf(one);
      const isScore = field.key === 'score';
      const cell = isScore ? readScore(text, reading) : readCell(text, holds, reading, target.unit);
      put(field.key, header, cell);
    }
  }
  takeCrosses(crosses, values, reasons);
  for (const column of columns) {
    const { header, target, isTrait } = column;
    const text = textOf(column);
    if (isTrait && text !== '') {
      const cell = readScore(text, reading);
      if ('reason' in cell) reasons.push(`${header}: ${cell.reason}`);
      else if ('value' in cell) {
        putScore(target.to, header, Number(cell.value), scores, reading, reasons);
      }
    }
    if (target.to === 'cultivar' && text !== '') {
      const reason = wrongTree(text, String(values['tree']), reading.ledger);
      if (reason !== undefined) reasons.push(`${header}: ${reason}`);
    }
  }
  if (section === 'tastings') takeScore(values, scores, reading, reasons);
  if (hasCrop(section) && !ofSittings && values['crop'] === undefined && reasons.length === 0) {
    const crop = cropFor(values, reading.ledger, before);
    if (crop === undefined)
      reasons.push(
        'the crop is not given, and two can be meant; add a column crop, or say --set crop=early or crop=main',
      );
    else values['crop'] = crop;
  }
  reasons.push(...rowProblems(section, values, scores));
  if (reasons.length > 0) return { reasons };
  return { entry: made(section, values, scores, reading), placing: placingOf(section, values) };
}

function hasCrop(section: SeasonSection): boolean {
  return columnFields(section).some(({ key }) => key === 'crop');
}

/** A column in which a row has a cross where a number belongs. */
interface Cross {
  readonly key: string;
  readonly name: string;
}

/** Of one fruit a cross says how many; of several it does not. */
function takeCrosses(
  crosses: readonly Cross[],
  values: Record<string, unknown>,
  reasons: string[],
): void {
  const { fruit, weights } = values;
  const picked = typeof fruit === 'number' ? fruit : Array.isArray(weights) ? weights.length : 0;
  for (const { key, name } of crosses) {
    const isDefect = (DEFECTS as readonly string[]).includes(key);
    if (isDefect && picked === 1) values[key] = 1;
    else {
      const of = isDefect && picked > 1 ? ` of ${picked}` : '';
      reasons.push(`${name}: a cross does not tell how many${of}; write the number`);
    }
  }
}

/** Why a tree cannot be the one that is meant, if a cultivar is named that it is not. */
function wrongTree(named: string, id: string, ledger: Ledger): string | undefined {
  const tree = ledger.trees.get(id);
  if (tree === undefined) return undefined;
  const { cultivar, receivedAs } = tree;
  if (receivedAs?.toLowerCase() === named.toLowerCase()) return undefined;
  const found = findCultivar(ledger, named);
  const keys = found.kind === 'one' ? [found.thing.key] : [];
  const fitting = found.kind === 'several' ? found.things.map(({ key }) => key) : keys;
  if (fitting.includes(cultivar.key)) return undefined;
  if (found.kind !== 'none') return `${id} is ${cultivar.name}, not ${named}; one of them is wrong`;
  const hint = found.nearest === undefined ? '' : `; did you mean ${found.nearest}?`;
  return `${id} is ${cultivar.name}, and ${named} is no cultivar of this ledger${hint}`;
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
  section: SeasonSection,
  values: Readonly<Record<string, unknown>>,
  scores: Readonly<Record<string, number>>,
): readonly string[] {
  const { fruit, weights, weight, taster, word, place } = values;
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
  const { needsOneOf }: Kind = CATALOGUE[section];
  if (needsOneOf?.every((key) => values[key] === undefined)) {
    return [`neither ${needsOneOf.join(' nor ')} is given`];
  }
  if (section !== 'tastings' || taster !== undefined) return [];
  if (Object.keys(scores).length > 0) return ['the scores have no taster'];
  if (place !== undefined) return ['the place has no taster'];
  return word === undefined ? [] : ['the words have no taster'];
}

function made(
  section: SeasonSection,
  values: Record<string, unknown>,
  scores: Readonly<Record<string, number>>,
  reading: CellReading,
): NewEntry {
  switch (section) {
    case 'tastings':
      return tastingOf(values, scores);
    case 'events':
      return { section, entry: eventOf(values, reading) } as unknown as NewEntry;
    case 'picks':
      return { section, entry: pickOf(values, reading) } as unknown as NewEntry;
    default:
      return { section, entry: values } as unknown as NewEntry;
  }
}

function placingOf(
  section: SeasonSection,
  { taster, place, as, tree }: Readonly<Record<string, unknown>>,
): Placing | undefined {
  if (section !== 'tastings' || place === undefined) return undefined;
  return { taster: String(taster), label: String(as ?? tree), place: Number(place) };
}

function tastingOf(
  { on, sitting, taster, word: words, place: _place, ...rest }: Readonly<Record<string, unknown>>,
  scores: Readonly<Record<string, number>>,
): NewEntry {
  const made = (entry: Readonly<Record<string, unknown>>) =>
    ({
      section: 'tastings',
      entry,
      ...(sitting === undefined ? {} : { sitting }),
    }) as unknown as NewEntry;
  // What is noted of a sitting as a whole.
  if (rest['tree'] === undefined) return made({ on, ...rest, samples: [] });
  // A sample without a label of its own goes by its tree.
  const { as, ...bare } = rest;
  const sample = as === rest['tree'] ? bare : rest;
  const label = String(as ?? rest['tree']);
  const sheet = (said: unknown) => ({ [String(taster)]: { [label]: said } });
  return made({
    on,
    samples: [sample],
    ...(Object.keys(scores).length === 0 ? {} : { scores: sheet(scores) }),
    ...(words === undefined ? {} : { words: sheet(words) }),
  });
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
  { moved_to: goal, pot_volume: size, target, ...event }: Readonly<Record<string, unknown>>,
  { ledger }: CellReading,
): Readonly<Record<string, unknown>> {
  const unit = bareUnit(ledger.trial.units, 'volume');
  return {
    ...event,
    ...(goal === undefined ? {} : { site: goal }),
    // Of a spray the whole trial must be said.
    ...(target === 'trial' && event['kind'] === 'spray' ? { site: WHOLE_TRIAL } : {}),
    ...(size === undefined
      ? {}
      : { container: typeof size === 'number' ? `${size} ${unit}` : size }),
  };
}
