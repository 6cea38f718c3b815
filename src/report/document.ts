import type { FrontValue } from '../model/ledger.ts';
import type { Figure } from './figures/figure.ts';
import type { Prose } from './prose.ts';
import type { Cell, Note, Report } from './table.ts';

/**
 * What stands on a page, before anyone decides how to print it: a card, the changes between two
 * seasons, a day, a post. Builders in this folder know nothing of formats; the printers know nothing
 * of fruit. A report of a single table is a `Report`, which a document can hold.
 */
export interface Document {
  /** The command that makes it, for example `card`. */
  readonly report: string;
  readonly title: string;
  readonly ledgerTitle: string;
  /** As of a `Report`. */
  readonly selection: Report['selection'];
  /** What a site generator wants to know; absent in what is not written to be published. */
  readonly published?: Published;
  /** How the paper lies, of what is printed and filled in. */
  readonly paper?: 'portrait' | 'landscape';
  /** The whole for machines, where that is not its sections by their keys; `notes` are among it. */
  readonly says?: { readonly [key: string]: JsonValue };
  readonly sections: readonly Section[];
  readonly notes: readonly Note[];
}

export type { FrontValue } from '../model/ledger.ts';

export interface Published {
  /** One plain sentence for lists of posts. */
  readonly description: string;
  /** YYYY-MM-DD */
  readonly date: string;
  readonly tags: readonly string[];
  /** More of what a site generator asks for; of a key of ours it stands in our place. */
  readonly front?: ReadonlyMap<string, FrontValue>;
}

export interface Section {
  /** Stable camelCase key, as in JSON. */
  readonly key: string;
  /** Empty for what stands before the first heading. */
  readonly heading: string;
  /** Whether it begins a page where the document is printed. */
  readonly isNewPage?: boolean;
  readonly blocks: readonly Block[];
  /** The same for machines, where that is not the blocks one by one. */
  readonly says?: JsonValue;
}

export type Block =
  /** `aside` stands on its right where there is room, in small words. */
  | { readonly kind: 'subheading'; readonly text: string; readonly aside?: string }
  | { readonly kind: 'paragraph'; readonly text: Prose }
  /** Sentences that go on from each other: a line each on a screen, else one paragraph. */
  | { readonly kind: 'lines'; readonly lines: readonly Prose[] }
  | { readonly kind: 'list'; readonly lines: readonly Prose[] }
  | { readonly kind: 'facts'; readonly facts: readonly Fact[] }
  | TableBlock
  | { readonly kind: 'notes'; readonly notes: readonly Note[] }
  | { readonly kind: 'figure'; readonly figure: Figure }
  | { readonly kind: 'photo'; readonly photo: Photo }
  /** So many places to write in, side by side. */
  | { readonly kind: 'blanks'; readonly text: string; readonly count: number }
  | FormBlock
  /** To be copied letter by letter. */
  | { readonly kind: 'code'; readonly language: string; readonly text: string };

/** A place to write in; cells of tables hold it, once or more often. */
export const BLANK = '______';

export interface Fact {
  /** What it is about, such as a name or a date; may be empty. */
  readonly label: string;
  readonly text: string;
  /** Key of the cultivar that the label names, whose card it leads to where there is one. */
  readonly cultivar?: string;
}

export interface TableBlock {
  readonly kind: 'table';
  /** Left out where the heading of the section says it. */
  readonly caption?: string;
  readonly table: Pick<Report, 'columns' | 'rows'>;
  /** What people read in place of a table without rows. */
  readonly ifEmpty: string;
  /** Stand below it. */
  readonly notes: readonly Note[];
}

/** Records to fill in by hand: lines of boxes, beside what is known of each. */
export interface FormBlock {
  readonly kind: 'form';
  /** What all records have in common; stands at the head of every page of them. */
  readonly caption: string;
  /** What a record, its name and a line of it are. */
  readonly record: string;
  readonly name: string;
  readonly line: string;
  /** Of every line. */
  readonly boxes: readonly FormBox[];
  readonly records: readonly FormRecord[];
}

export interface FormBox {
  /** Where it stands alone. */
  readonly label: string;
  /** Below the name of its group. */
  readonly inGroup: string;
  /** Neighbours of the same group stand together. */
  readonly group: string;
  /** How much is written in it. */
  readonly room: 'few' | 'some' | 'much';
  /** Whether it is taken away from a record that is barred. */
  readonly isBarred: boolean;
}

export interface FormRecord {
  readonly id: string;
  readonly name: string;
  readonly aside: string | undefined;
  /** Why some boxes are taken away, if so. */
  readonly barred: string | undefined;
  readonly known: readonly string[];
  /** One more box, of the whole record, and the unit of what goes into it. */
  readonly own: { readonly label: string; readonly unit: string } | undefined;
  /** A line without a label has a box for it. */
  readonly lines: readonly { readonly label: string; readonly due: readonly string[] }[];
}

export interface Photo {
  /** Inside the ledger, with slashes. */
  readonly path: string;
  /** What is seen on it, for those who do not see it. */
  readonly alt: string;
}

/** Anything that JSON can hold. */
export type JsonValue = Cell | readonly JsonValue[] | { readonly [key: string]: JsonValue };

export function paragraph(...text: Prose): Block {
  return { kind: 'paragraph', text };
}

/** A section of facts and sentences. */
export function factsSection({
  facts,
  ...section
}: Required<Pick<Section, 'key' | 'heading' | 'says'>> & {
  readonly facts: readonly Fact[];
}): Section {
  return { ...section, blocks: [{ kind: 'facts', facts }] };
}

/** A section that is a table. */
export function tableSection({
  key,
  heading,
  table,
  ifEmpty,
}: Pick<Section, 'key' | 'heading'> & Pick<TableBlock, 'table' | 'ifEmpty'>): Section {
  return { key, heading, blocks: [{ kind: 'table', table, ifEmpty, notes: [] }] };
}

/** The table that a section is, if it is one. */
export function onlyTable({ blocks }: Section): TableBlock['table'] | undefined {
  const [first, second] = blocks;
  const isOne = first?.kind === 'table' && first.caption === undefined && second === undefined;
  return isOne ? first.table : undefined;
}

function blocksOf({ sections }: Document): readonly Block[] {
  return sections.flatMap(({ blocks }) => blocks);
}

/** Every figure, in order. */
export function figuresOf(document: Document): readonly Figure[] {
  return blocksOf(document).flatMap((block) => (block.kind === 'figure' ? [block.figure] : []));
}

/** Every photo, in order. */
export function photosOf(document: Document): readonly Photo[] {
  return blocksOf(document).flatMap((block) => (block.kind === 'photo' ? [block.photo] : []));
}

/** Keys of the cultivars that it tells of by name, each once, in order. */
export function cultivarsOf(document: Document): readonly string[] {
  const facts = blocksOf(document).flatMap((block) => (block.kind === 'facts' ? block.facts : []));
  return [...new Set(facts.flatMap(({ cultivar }) => (cultivar === undefined ? [] : [cultivar])))];
}

/** A table as a report of its own, for the printers of tables. */
export function asReport(
  { report, ledgerTitle, selection }: Document,
  { heading }: Section,
  { caption = heading, table, ifEmpty, notes }: TableBlock,
): Report {
  const { columns, rows } = table;
  return { report, title: caption, ledgerTitle, selection, columns, rows, ifEmpty, notes };
}
