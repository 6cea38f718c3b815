import type { TextTable } from '../../entry/import/read-table.ts';
import { renderCsv } from '../../render/csv.ts';
import type { Report } from '../../report/table.ts';
import { positionAt } from '../../source/position.ts';
import type { SortedEntries } from './sort-entries.ts';

/** The rows that were not taken, in full, with the reasons in a last column: mend it and import it. */
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
  const columns = keys.map((_, index) => column(`column ${index}`));
  const body = renderCsv({ ...EMPTY, columns, rows })
    .split('\n')
    .slice(1)
    .join('\n');
  const head = renderCsv({ ...EMPTY, columns: keys.map(column), rows: [] });
  return head + body;
}

const EMPTY: Omit<Report, 'columns' | 'rows'> = {
  report: 'import',
  title: '',
  ledgerTitle: '',
  selection: {},
  notes: [],
};

function column(key: string): Report['columns'][number] {
  return { key, label: key, kind: 'text', drop: 0 };
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
