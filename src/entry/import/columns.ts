import { CATALOGUE, SECTIONS, type Section } from '../../entries/catalogue.ts';
import type { CellField, Holds } from '../../entries/field.ts';
import type { Kind } from '../../entries/kind.ts';
import type { Dimension } from '../../model/quantity.ts';

/**
 * Several amounts in one cell: `commas` where commas may part them too, `blanks` where each has a
 * column of its own and blanks alone do.
 */
export type ListKind = 'commas' | 'blanks';

/** What a column holds. */
export type CellKind =
  | {
      readonly kind:
        | 'date'
        | 'tree'
        | 'crop'
        | 'taster'
        | 'site'
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
  readonly needed: boolean;
}

const COLUMN_FIELDS: ReadonlyMap<Section, readonly ColumnField[]> = new Map(
  SECTIONS.map((section) => {
    const kind: Kind = CATALOGUE[section];
    return [section, Object.entries(kind.row ?? kind.fields).map(columnField)];
  }),
);

/** The fields of a section that a table may fill; traits of the ledger come on top. */
export function columnFields(section: Section): readonly ColumnField[] {
  return COLUMN_FIELDS.get(section) ?? [];
}

function columnField([key, field]: readonly [string, CellField]): ColumnField {
  const { also, perhaps = [], column, isOptional } = field;
  // What `pomary export` calls it; a header is read in small letters.
  const exported = column?.key === undefined ? [] : [column.key.toLowerCase()];
  // A crop that is left out may follow from the tree and the day.
  const needed = !isOptional && field.holds.kind !== 'crop';
  return { key, holds: cellKind(field.holds), also: [...also, ...exported], perhaps, needed };
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
    // Only what is listed once and for all says these, and no table of entries does.
    case 'cultivar':
    case 'partial date':
    case 'yes or no':
    case 'names':
      return { kind: 'text' };
    default:
      return { kind: holds.kind };
  }
}

/** Columns of the tables of `pomary export` that follow from others, and so are not read. */
const FOLLOWING = new Set([
  ...['entry', 'season', 'cultivar', 'site', 'sample', 'weighedSingly', 'totalWeight', 'totalFrom'],
  ...['sound', 'trunkArea', 'target', 'clearOn'],
]);

/** Whether a table is one of `pomary export`: its numbers are then in the units pomary counts in. */
export function isExported(headers: readonly string[]): boolean {
  return headers.includes('entry') && headers.includes('season');
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
  section: Section,
  traits: readonly string[],
  given: readonly string[] = [],
): GuessedMapping {
  const fields = columnFields(section);
  const guesses = headers.flatMap((header) => {
    // An exported table has the label beside the id of a sample.
    if (header === 'sample' && isExported(headers)) return [];
    const { name, unit } = headerParts(header);
    const trait =
      section === 'tastings' ? traits.find((one) => one.toLowerCase() === name) : undefined;
    if (trait !== undefined) return [{ header, to: trait, unit, grade: 0 }];
    const found = fields.flatMap((field) => {
      const grade = [[field.key.replaceAll('_', ' ')], field.also, field.perhaps].findIndex(
        (names) => names.includes(name),
      );
      return grade < 0 ? [] : [{ header, to: field.key, unit, grade }];
    });
    return found.sort((a, b) => a.grade - b.grade).slice(0, 1);
  });
  const taken = guesses.filter(({ to, grade }) => {
    if (isList(fields, to)) return true;
    if (grade === PERHAPS && given.includes(to)) return false;
    return guesses.every((other) => other.to !== to || other.grade >= grade);
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

const PERHAPS = 2;

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
