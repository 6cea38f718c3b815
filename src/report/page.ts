import type { Cell, Note, Report } from './table.ts';

/**
 * Several things told on one page, such as all that is known of a cultivar, before anyone decides
 * how to print it. Tables in it are those of reports, so that they are printed alike.
 */
export interface Page {
  /** The command that makes it, for example `card`. */
  readonly report: string;
  readonly title: string;
  readonly ledgerTitle: string;
  readonly selection: Report['selection'];
  readonly sections: readonly Section[];
  readonly notes: readonly Note[];
}

export type Section = LinesSection | TableSection;

interface Headed {
  /** Stable camelCase key, as in JSON. */
  readonly key: string;
  readonly heading: string;
}

/** Facts and sentences. */
export interface LinesSection extends Headed {
  readonly kind: 'lines';
  readonly lines: readonly Line[];
  /** The same for machines. */
  readonly says: Said;
}

export interface TableSection extends Headed {
  readonly kind: 'table';
  readonly table: Pick<Report, 'columns' | 'rows'>;
  /** What stands in place of a table without rows. */
  readonly ifEmpty: string;
}

export interface Line {
  /** What the line is about, such as the name of a fact or a date; may be empty. */
  readonly lead: string;
  readonly text: string;
}

/** Anything that JSON can hold. */
export type Said = Cell | readonly Said[] | { readonly [key: string]: Said };

/** A table of a page as a report of its own, for the renderers of tables. */
export function tableAsReport(page: Page, { heading, table }: TableSection): Report {
  const { report, ledgerTitle, selection } = page;
  return { report, title: heading, ledgerTitle, selection, ...table, notes: [] };
}
