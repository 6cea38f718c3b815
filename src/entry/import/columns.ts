import type { Section } from '../../entries/catalogue.ts';
import { EVENT_WORDS } from '../../entries/event.ts';
import { DEFECTS, type Defect } from '../../model/entries.ts';
import type { Dimension } from '../../model/quantity.ts';

/**
 * Several amounts in one cell: `commas` where commas may part them too, `blanks` where each has a
 * column of its own and blanks alone do.
 */
export type ListKind = 'commas' | 'blanks';

/** What a column holds. */
export type CellKind =
  | { readonly kind: 'date' | 'tree' | 'crop' | 'taster' | 'site' | 'text' | 'whole' | 'number' }
  | { readonly kind: 'amount'; readonly dimension: Dimension; readonly list?: ListKind }
  | { readonly kind: 'choice'; readonly of: readonly string[] };

/** A field that a column may fill: its key in the entry, what it holds, how people head it. */
export interface ColumnField {
  readonly key: string;
  readonly holds: CellKind;
  /** In lower case, without units; the key itself is always understood. */
  readonly also: readonly string[];
  /** Headers that mean it only where no other column does. */
  readonly perhaps?: readonly string[];
  readonly needed?: true;
}

const DATE: ColumnField = {
  key: 'on',
  holds: { kind: 'date' },
  also: ['date', 'day', 'when', 'picked on', 'harvested', 'harvest date', 'pick date'],
  perhaps: ['picked'],
  needed: true,
};
const TREE: ColumnField = {
  key: 'tree',
  holds: { kind: 'tree' },
  also: ['tree id', 'plant', 'plant id', 'tree no'],
  perhaps: ['id', 'cultivar', 'variety'],
  needed: true,
};
const CROP: ColumnField = {
  key: 'crop',
  holds: { kind: 'crop' },
  also: ['flush', 'which crop', 'early or main'],
};
const REMARKS: readonly ColumnField[] = [
  {
    key: 'note',
    holds: { kind: 'text' },
    also: ['notes', 'remark', 'remarks', 'comment', 'comments'],
  },
  { key: 'photo', holds: { kind: 'text' }, also: ['picture', 'image', 'photo file'] },
];
const FRUIT: ColumnField = {
  key: 'fruit',
  holds: { kind: 'whole' },
  also: [
    'fruits',
    'number',
    'number of fruit',
    'no of fruit',
    'count',
    'n',
    'how many',
    'quantity',
  ],
};
const DEFECT_WORDS: Readonly<Record<Defect, readonly string[]>> = {
  split: ['splits', 'cracked', 'cracks', 'split fruit'],
  bird: ['birds', 'bird damage', 'pecked'],
  insect: ['insects', 'insect damage', 'wasp', 'wasps', 'ants'],
  mould: ['mold', 'mouldy', 'moldy', 'rot', 'rotten'],
  unripe: ['not ripe', 'green'],
};

/** The fields of each section that a table may fill; traits of the ledger come on top. */
export const COLUMN_FIELDS: Readonly<Record<Section, readonly ColumnField[]>> = {
  counts: [
    DATE,
    TREE,
    CROP,
    { ...FRUIT, needed: true },
    { key: 'branches', holds: { kind: 'whole' }, also: ['branch', 'number of branches', 'shoots'] },
    ...REMARKS,
  ],
  picks: [
    DATE,
    TREE,
    CROP,
    FRUIT,
    {
      key: 'weights',
      holds: { kind: 'amount', dimension: 'weight', list: 'commas' },
      also: [
        'fruit weight',
        'fruit weights',
        'single weight',
        'single weights',
        'singleweights',
        'each',
      ],
    },
    {
      key: 'weight',
      holds: { kind: 'amount', dimension: 'weight' },
      also: ['total weight', 'weighttogether', 'weight of pick', 'mass', 'total', 'yield'],
    },
    {
      key: 'sample',
      holds: { kind: 'choice', of: ['all', 'random', 'best'] },
      also: ['sampled'],
    },
    ...DEFECTS.map(
      (defect): ColumnField => ({
        key: defect,
        holds: { kind: 'whole' },
        also: DEFECT_WORDS[defect],
      }),
    ),
    ...REMARKS,
  ],
  drops: [
    DATE,
    TREE,
    CROP,
    { ...FRUIT, needed: true, also: [...FRUIT.also, 'dropped', 'fallen'] },
    ...REMARKS,
  ],
  tastings: [
    { ...DATE, also: [...DATE.also, 'tasted', 'tasted on', 'tasting date'] },
    TREE,
    CROP,
    {
      key: 'taster',
      holds: { kind: 'taster' },
      also: ['who', 'name', 'person', 'judge', 'tasted by'],
    },
    {
      key: 'as',
      holds: { kind: 'text' },
      also: ['label', 'blind label', 'code'],
      perhaps: ['sample'],
    },
    { key: 'trait', holds: { kind: 'text' }, also: [] },
    { key: 'score', holds: { kind: 'number' }, also: [] },
    { key: 'ripeness', holds: { kind: 'choice', of: ['under', 'ripe', 'over'] }, also: ['ripe'] },
    { key: 'brix', holds: { kind: 'number' }, also: ['sugar', 'soluble solids'] },
    { key: 'eye', holds: { kind: 'amount', dimension: 'width' }, also: ['ostiole', 'eye width'] },
    ...REMARKS,
  ],
  growth: [
    { ...DATE, also: [...DATE.also, 'measured', 'measured on'] },
    TREE,
    {
      key: 'girth',
      holds: { kind: 'amount', dimension: 'girth' },
      also: ['trunk girth', 'circumference', 'trunk circumference'],
    },
    {
      key: 'height',
      holds: { kind: 'amount', dimension: 'height' },
      also: ['tree height', 'tall'],
    },
    ...REMARKS,
  ],
  events: [
    DATE,
    {
      key: 'kind',
      holds: { kind: 'choice', of: EVENT_WORDS },
      also: ['event', 'what', 'what was done'],
      needed: true,
    },
    { key: 'tree', holds: { kind: 'tree' }, also: TREE.also },
    { key: 'site', holds: { kind: 'site' }, also: ['where', 'place'] },
    { key: 'moved_to', holds: { kind: 'site' }, also: ['moved to', 'movedto'] },
    { key: 'product', holds: { kind: 'text' }, also: ['with', 'spray'] },
    {
      key: 'wait_days',
      holds: { kind: 'whole' },
      also: ['wait days', 'waitdays', 'wait', 'days to wait'],
    },
    { key: 'after', holds: { kind: 'choice', of: ['picks'] }, also: [] },
    { key: 'container', holds: { kind: 'text' }, also: ['pot'] },
    {
      key: 'pot_volume',
      holds: { kind: 'amount', dimension: 'volume' },
      also: ['pot volume', 'potvolume', 'pot size'],
    },
    {
      key: 'low',
      holds: { kind: 'amount', dimension: 'temperature' },
      also: ['lowest', 'lowest temperature', 'temperature'],
    },
    { key: 'dieback', holds: { kind: 'amount', dimension: 'height' }, also: ['died back'] },
    ...REMARKS,
  ],
};

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

/** The sections that a table can be read into. */
export type TableSection = keyof typeof COLUMN_FIELDS;
export const TABLE_SECTIONS = Object.keys(COLUMN_FIELDS) as readonly TableSection[];

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
  section: TableSection,
  traits: readonly string[],
  given: readonly string[] = [],
): GuessedMapping {
  const fields = COLUMN_FIELDS[section];
  const guesses = headers.flatMap((header) => {
    // An exported table has the label beside the id of a sample.
    if (header === 'sample' && isExported(headers)) return [];
    const { name, unit } = headerParts(header);
    const trait =
      section === 'tastings' ? traits.find((one) => one.toLowerCase() === name) : undefined;
    if (trait !== undefined) return [{ header, to: trait, unit, grade: 0 }];
    const found = fields.flatMap((field) => {
      const grade = [[field.key.replaceAll('_', ' ')], field.also, field.perhaps ?? []].findIndex(
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
  const missing = fields.filter((one) => one.needed === true && !has.has(one.key));
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

/** The headers that are understood, as text for the help. */
export function headersHelp(section: TableSection): string {
  return COLUMN_FIELDS[section]
    .map(({ key, also, perhaps = [] }) => `${key}: ${[key, ...also, ...perhaps].join(', ')}`)
    .join('\n');
}
