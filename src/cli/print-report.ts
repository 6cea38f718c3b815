import type { Command } from 'commander';
import { FORMATS, type Format, renderReport } from '../render/render-report.ts';
import { chooseColumns } from '../report/named-column.ts';
import type { Report } from '../report/table.ts';
import type { Host } from './host.ts';
import { lookOf } from './look.ts';
import { type GlobalOptions, openForReport } from './open-ledger.ts';
import type { ReportOptions } from './options.ts';
import { formatOfFile, putOut } from './put-out.ts';
import type { ReportEntry } from './report-entry.ts';
import { asUsageError, requestOf } from './request.ts';

/**
 * The way of every report: options, ledger, table, text. The builder gets the ledger and the
 * request and knows nothing of where they came from.
 */
export async function printReport(
  host: Host,
  command: Command,
  entry: ReportEntry<object>,
): Promise<void> {
  const options = command.optsWithGlobals<ReportOptions & GlobalOptions>();
  const ledger = await openForReport(host, options);
  const format = options.format ?? formatOfFile(options.output, FORMATS);
  const report = await built(options.columns, format, () =>
    entry.build(
      ledger,
      requestOf(ledger, entry.ofLedger?.(options) ?? options, host.today()),
      options,
      command.args,
      host,
    ),
  );
  const look = lookOf(host, host.stdout, !options.color || options.output !== undefined);
  const text = await renderReport(report, format, look, {
    decimal: options.decimal ?? ledger.trial.decimal,
    // Whoever asks how it is worked out wants to read all of it.
    notes: options.notes ?? (options.explain === true ? 'all' : undefined),
    chosen: options.columns !== undefined,
  });
  putOut(host, options, text);
}

async function built(
  columns: string | undefined,
  format: Format,
  build: () => Promise<Report>,
): Promise<Report> {
  try {
    const report = await build();
    const isForPeople = format !== 'csv' && format !== 'json';
    return columns === undefined ? report : chooseColumns(report, columns, isForPeople);
  } catch (thrown) {
    throw asUsageError(thrown);
  }
}
