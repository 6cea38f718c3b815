import type { Ledger } from '../../model/ledger.ts';
import type { Cell, Column, Report, Row } from '../../report/table.ts';
import type { Imported } from '../../writing/import/import-table.ts';
import { type Entered, isListing } from '../../writing/listing.ts';
import { isFields } from '../../writing/new-entry.ts';

/** What an import would write, a row an entry. */
export function importReport(
  ledger: Ledger,
  section: string,
  imported: Imported<Entered>,
  entries: readonly Entered[],
): Report {
  const rows = entries.map(rowOf);
  const keys = [...new Set(rows.flatMap((row) => Object.keys(row)))];
  const columns = keys.map((key, index): Column => {
    const isNumber = rows.every((row) => ['number', 'undefined'].includes(typeof row[key]));
    const digits = Math.max(...rows.map((row) => decimalsOf(row[key])));
    const kind = key === 'on' ? 'date' : isNumber ? 'number' : 'text';
    return { key, label: key, kind, digits, drop: index < 3 ? 0 : index };
  });
  const sent = Object.entries(imported.mapping).map(([header, { to, unit }]) =>
    unit === undefined ? `${header} gives ${to}` : `${header} gives ${to} in ${unit}`,
  );
  const ignored = imported.ignored.length > 0 ? [`Left out: ${imported.ignored.join(', ')}.`] : [];
  return {
    report: 'import',
    title: `What would be written: ${entries.length} ${section}`,
    ledgerTitle: ledger.trial.title,
    selection: {},
    columns,
    rows,
    notes: [`${sent.join('; ')}.`, ...ignored].map((text) => ({ kind: 'method' as const, text })),
  };
}

/** An entry flat: of a tasting its sample, its taster and the scores. */
function rowOf(one: Entered): Row {
  if (isListing(one))
    return { key: one.key, ...flat(typeof one.entry === 'string' ? {} : one.entry) };
  const { section, entry } = one;
  if (section !== 'tastings') return flat(entry);
  const [sample] = entry.samples;
  const [scored] = Object.entries(entry.scores ?? {});
  const taster = scored === undefined ? {} : { taster: scored[0] };
  return flat({ on: entry.on, ...sample, ...taster, ...Object.values(scored?.[1] ?? {})[0] });
}

function flat(fields: object): Row {
  const row: Record<string, Cell> = {};
  for (const [key, value] of Object.entries(fields)) {
    if (Array.isArray(value)) row[key] = value.join(', ');
    else if (!isFields(value) && value !== undefined) row[key] = value as Cell;
  }
  return row;
}

function decimalsOf(cell: Cell | undefined): number {
  return typeof cell === 'number' ? (String(cell).split('.')[1]?.length ?? 0) : 0;
}
