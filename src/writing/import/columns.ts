import { CATALOGUE, SECTIONS } from '../../entries/catalogue.ts';
import { cultivar } from '../../entries/cultivar.ts';
import { event } from '../../entries/event.ts';
import {
  type CellField,
  type Holds,
  tableCell,
  entryTree as treeField,
} from '../../entries/field.ts';
import { type Kind, namesOf } from '../../entries/kind.ts';
import { tree } from '../../entries/tree.ts';
import type { SeasonSection } from '../../model/ledger.ts';
import { type Dimension, unitNames } from '../../model/quantity.ts';

/**
 * Several amounts in one cell: `commas` where commas may part them too, `blanks` where each has a
 * column of its own and blanks alone do.
 */
export type ListKind = 'commas' | 'blanks';

/** What is listed once and for all, and may come from a table. */
export type ListedKind = 'cultivars' | 'trees';
const LISTED: readonly ListedKind[] = ['cultivars', 'trees'];

/** What a row of a table may be. */
export type ImportKind = SeasonSection | ListedKind;

export function isListed(kind: ImportKind): kind is ListedKind {
  return (LISTED as readonly string[]).includes(kind);
}

/** So many rows of a kind, in words. */
export function countedRows(count: number, kind: ImportKind): string {
  const [one, many] = isListed(kind) ? [kind.slice(0, -1), kind] : namesOf(CATALOGUE[kind]);
  return `${count} ${count === 1 ? one : many}`;
}

/** What a column holds. */
export type CellKind =
  | {
      readonly kind:
        | 'date'
        | 'tree'
        | 'crop'
        | 'taster'
        | 'site'
        | 'cultivar'
        | 'partial date'
        | 'yes or no'
        | 'names'
        | 'text'
        | 'phrases'
        | 'whole'
        | 'number';
    }
  | { readonly kind: 'amount'; readonly dimension: Dimension; readonly list?: ListKind }
  | { readonly kind: 'choice'; readonly of: readonly string[] };

/** A field that a column may fill: its key in the entry, what it holds, how people head it. */
export interface ColumnField {
  readonly key: string;
  readonly holds: CellKind;
  /** In lower case, without units; the key itself is always understood. */
  readonly also: readonly string[];
  /** Headers that mean it only where no other column does. */
  readonly perhaps: readonly string[];
  /** Headers with a number behind them. */
  readonly numbered: readonly string[];
  readonly needed: boolean;
}

/** The cultivar of the tree of a row: it is not written, and tells a wrong tree. */
const CHECK = tableCell(
  { kind: 'cultivar' },
  { also: [...tree.fields.cultivar.also, 'cultivar name', 'variety name', 'fig'] },
);

const { perhaps: _, ...ofCultivar } = cultivar.fields;

/** Rows of what is listed: its key comes in a column of its own. */
const LISTED_ROWS: Readonly<Record<ListedKind, Readonly<Record<string, CellField>>>> = {
  cultivars: {
    ...ofCultivar,
    key: tableCell({ kind: 'text' }, { also: ['id', 'code', 'cultivar key'] }),
    // What is not said is not known.
    bears: { ...cultivar.fields.bears, isOptional: true },
    perhaps: {
      ...cultivar.doubt.same_as,
      isOptional: true,
      also: [...cultivar.doubt.same_as.also, 'perhapssameas'],
    },
    why: { ...cultivar.doubt.why, also: [...cultivar.doubt.why.also, 'perhapswhy'] },
  },
  trees: {
    id: {
      ...tableCell({ kind: 'text' }, { also: [...treeField.also, 'tree', 'no', 'number', 'key'] }),
      isOptional: false,
    },
    ...tree.fields,
    // Where there is one site, it goes without saying.
    site: { ...tree.fields.site, isOptional: true },
    pot_volume: event.row.pot_volume,
  },
};

const COLUMN_FIELDS: ReadonlyMap<ImportKind, readonly ColumnField[]> = new Map([
  ...SECTIONS.map((section): [ImportKind, readonly ColumnField[]] => {
    const kind: Kind = CATALOGUE[section];
    const fields: Readonly<Record<string, CellField>> = kind.row ?? kind.fields;
    return [section, Object.entries({ ...fields, cultivar: CHECK }).map(columnField)];
  }),
  ...LISTED.map((kind): [ImportKind, readonly ColumnField[]] => [
    kind,
    Object.entries(LISTED_ROWS[kind]).map(columnField),
  ]),
]);

/** The fields of a row that a table may fill; traits of the ledger come on top. */
export function columnFields(kind: ImportKind): readonly ColumnField[] {
  return COLUMN_FIELDS.get(kind) ?? [];
}

function columnField([key, field]: readonly [string, CellField]): ColumnField {
  const { also, perhaps = [], numbered = [], column, isOptional } = field;
  // What `pomary export` calls it; a header is read in small letters.
  const exported = column?.key === undefined ? [] : [column.key.toLowerCase()];
  // A crop that is left out may follow from the tree and the day.
  const needed = !isOptional && field.holds.kind !== 'crop';
  return {
    key,
    holds: cellKind(field.holds),
    also: [...also, ...exported],
    perhaps,
    numbered,
    needed,
  };
}

function cellKind(holds: Holds): CellKind {
  switch (holds.kind) {
    case 'amount': {
      const { kind, dimension } = holds;
      return { kind, dimension, ...(holds.isList ? { list: 'commas' } : {}) };
    }
    case 'choice':
      return holds;
    // Maps and lists of a sitting have columns of their own in its row.
    case 'lines':
      return { kind: 'text' };
    default:
      return { kind: holds.kind };
  }
}

/** Columns of the tables of `pomary export` that follow from others, and so are not read. */
const FOLLOWING = new Set([
  ...['entry', 'season', 'cultivar', 'site', 'sample', 'weighedSingly', 'totalWeight', 'totalFrom'],
  ...['sound', 'trunkArea', 'clearOn', 'samples', 'orderSize'],
]);

/** Whether a table is one of `pomary export`: its numbers are then in the units pomary counts in. */
export function isExported(headers: readonly string[]): boolean {
  const ofEntries = headers.includes('entry') && headers.includes('season');
  return ofEntries || headers.includes('perhapsSameAs') || headers.includes('receivedFrom');
}

/** Whether a table has a row a sitting, for what was noted of the whole of it. */
export function isOfSittings(headers: readonly string[]): boolean {
  return isExported(headers) && headers.includes('samples') && !headers.includes('tree');
}

/** Headers that nothing is lost with. */
export function followingColumns(headers: readonly string[]): readonly string[] {
  return isExported(headers) ? headers.filter((header) => FOLLOWING.has(header)) : [];
}

/** Where the cells of one column go. */
export interface ColumnTarget {
  /** Key of a field, or a trait of the ledger. */
  readonly to: string;
  /** The unit that the header gives, if any. */
  readonly unit?: string;
}

/** Where the columns of a table go, by their headers. */
export type Mapping = Readonly<Record<string, ColumnTarget>>;

export interface GuessedMapping {
  readonly mapping: Mapping;
  /** Headers that nothing is known about. */
  readonly ignored: readonly string[];
  /** Keys that an entry needs and no column gives. */
  readonly missing: readonly string[];
}

/**
 * Guesses from the headers of a table what its columns hold. A header that is the key of a field
 * goes before other words for it; where several headers are as good, all are taken, and the import
 * joins or refuses them.
 *
 * @param given keys that a map gives already
 */
export function guessMapping(
  headers: readonly string[],
  section: ImportKind,
  traits: readonly string[],
  given: readonly string[] = [],
): GuessedMapping {
  const fields = columnFields(section);
  const guesses = headers.flatMap((header): Guess[] => {
    // An exported table has the label beside the id of a sample, and the cultivar as it was then.
    const isOther = header === 'sample' || (header === 'cultivar' && !isListed(section));
    if (isExported(headers) && isOther) return [];
    if (isExported(headers) && section === 'tastings' && header === 'entry') {
      return [{ header, to: 'sitting', unit: undefined, grade: 0 }];
    }
    for (const { name, unit } of headerReadings(header)) {
      const to = section === 'tastings' ? traitCalled(traits, name) : undefined;
      if (to !== undefined) return [{ header, to, unit, grade: 0 }];
      const found = fields.flatMap((field) => {
        const grade = gradeOf(field, name);
        return grade < 0 ? [] : [{ header, to: field.key, unit, grade }];
      });
      const [best] = found.sort((a, b) => a.grade - b.grade);
      if (best !== undefined) return [best];
    }
    return [];
  });
  const named = isListed(section) ? withKeys(guesses) : withTrees(guesses, given);
  const taken = named.filter(({ to, grade }) => {
    if (isList(fields, to)) return true;
    if (grade === PERHAPS && given.includes(to)) return false;
    return named.every((other) => other.to !== to || other.grade >= grade);
  });
  const has = new Set([...given, ...taken.map(({ to }) => to)]);
  const missing = fields.filter((one) => one.needed && !has.has(one.key));
  return {
    mapping: Object.fromEntries(
      taken.map(({ header, to, unit }) => [header, unit === undefined ? { to } : { to, unit }]),
    ),
    ignored: headers.filter((one) => one !== '' && !taken.some(({ header }) => header === one)),
    missing: missing.map(({ key }) => key),
  };
}

interface Guess {
  readonly header: string;
  readonly to: string;
  readonly unit: string | undefined;
  readonly grade: number;
}

const PERHAPS = 2;

/** Where no column gives the tree, the cultivar does, if it has one tree. */
function withTrees(guesses: readonly Guess[], given: readonly string[]): readonly Guess[] {
  if (given.includes('tree') || guesses.some(({ to }) => to === 'tree')) return guesses;
  return guesses.map((one) => (one.to === 'cultivar' ? { ...one, to: 'tree' } : one));
}

/** Where another column gives the name, a column headed cultivar gives the key. */
function withKeys(guesses: readonly Guess[]): readonly Guess[] {
  const isNamed = guesses.some(({ to, grade }) => to === 'name' && grade < PERHAPS);
  return guesses.map((one) =>
    one.to === 'name' && one.grade === PERHAPS && isNamed ? { ...one, to: 'key', grade: 0 } : one,
  );
}

/** How surely a header means a field, 0 most; -1 where it does not. */
function gradeOf({ key, also, perhaps, numbered }: ColumnField, name: string): number {
  const bare = /^(.*\D) ?\d+$/.exec(name)?.[1]?.trim();
  const isNumbered = bare !== undefined && numbered.includes(bare);
  const grade = [[key.replaceAll('_', ' ')], also, perhaps].findIndex((names) =>
    names.includes(name),
  );
  return grade < 0 && isNumbered ? 1 : grade;
}

/** A trait by its name, or by the beginning of it. */
function traitCalled(traits: readonly string[], name: string): string | undefined {
  const exact = traits.find((one) => one.toLowerCase() === name);
  const begun = traits.filter((one) => one.toLowerCase().startsWith(name));
  return exact ?? (name.length >= 4 && begun.length === 1 ? begun[0] : undefined);
}

/** A header as it may be meant: as it stands, with a unit at its end, or as a unit alone. */
function headerReadings(header: string) {
  const whole = headerParts(header);
  if (whole.unit !== undefined) {
    return [{ ...whole, unit: UNIT_WORDS.get(whole.unit.toLowerCase()) ?? whole.unit }];
  }
  const [, name = '', word = ''] = /^(?:(.*?) )?(?:in )?(\S+)$/.exec(whole.name) ?? [];
  const unit = UNIT_WORDS.get(word);
  if (unit === undefined) return [whole];
  // Grams alone are of what is weighed.
  const isWeight = name === '' && unitNames('weight').includes(unit);
  return [whole, { name: isWeight ? 'weight' : name, unit }];
}

/** Units as headers have them, in lower case, by the name that the ledger has for them. */
const UNIT_WORDS: ReadonlyMap<string, string> = new Map([
  ...(['weight', 'girth', 'width', 'height'] as const).flatMap((dimension) =>
    unitNames(dimension).map((unit): [string, string] => [unit, unit]),
  ),
  ...Object.entries({ grams: 'g', gram: 'g', gr: 'g', kilos: 'kg', ounces: 'oz', pounds: 'lb' }),
  ...Object.entries({ millimetres: 'mm', centimetres: 'cm', metres: 'm', inches: 'in' }),
]);

function isList(fields: readonly ColumnField[], key: string): boolean {
  const holds = fields.find((field) => field.key === key)?.holds;
  return holds?.kind === 'amount' && holds.list !== undefined;
}

/** The name of a header in lower case, and the unit in brackets behind it: "Weight (oz)". */
export function headerParts(header: string): {
  readonly name: string;
  readonly unit: string | undefined;
} {
  const found = /^(.*?)\s*[([]\s*([^)\]]+?)\s*[)\]]\s*$/.exec(header);
  const name = (found?.[1] ?? header)
    .toLowerCase()
    .replaceAll(/[_\s.-]+/g, ' ')
    .trim();
  return { name, unit: found?.[2] };
}
