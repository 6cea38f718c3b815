import { csvText } from '../../render/csv.ts';
import { positionAt } from '../../source/position.ts';
import type { TextTable } from '../../writing/import/read-table.ts';
import type { SortedEntries } from './sort-entries.ts';

/**
 * The rows that were not taken, in full and parted as they were, with the reasons in a last column:
 * mend it and import it.
 */
export function rejectsCsv(table: TextTable, { faulty, said }: SortedEntries): string {
  const lineOf = (at: SortedEntries['faulty'][number]['at']) => positionAt(at.file, at.start).line;
  const keys = [...table.headers, freeName(table.headers)];
  const rows = faulty.map(({ at }) => {
    const cells = table.rows.find(({ line }) => line === lineOf(at))?.cells ?? [];
    const reasons = said.filter((one) => one.severity === 'error' && one.at.start === at.start);
    const reason = reasons.map(({ message }) => message).join('; ');
    const all = [...keys.slice(0, -1).map((_, index) => cells[index] ?? ''), reason];
    return Object.fromEntries(all.map((cell, index) => [`column ${index}`, cell]));
  });
  const columns = keys.map((_, index) => ({ key: `column ${index}` }));
  const parted = (names: readonly { readonly key: string }[], records: typeof rows) =>
    csvText(names, records, 'point', table.delimiter);
  const body = parted(columns, rows).split('\n').slice(1).join('\n');
  return (
    parted(
      keys.map((key) => ({ key })),
      [],
    ) + body
  );
}

/** The column of reasons of a table that was handed back, and is mended now. */
export function reasonColumn({ headers }: TextTable): readonly string[] {
  return headers.slice(-1).filter((header) => /^why not(?: again)*$/.test(header));
}

/** A header that an import leaves out and the table does not have. */
function freeName(headers: readonly string[]): string {
  let name = 'why not';
  while (headers.includes(name)) name += ' again';
  return name;
}
