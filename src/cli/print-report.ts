import type { Command } from 'commander';
import type { Ledger } from '../model/ledger.ts';
import { FORMATS, type Format, renderReport } from '../render/render-report.ts';
import { chooseColumns } from '../report/choose-columns.ts';
import type { ReportRequest } from '../report/report-request.ts';
import type { Report } from '../report/table.ts';
import type { Host } from './host.ts';
import { lookOf } from './look.ts';
import { type GlobalOptions, openLedger } from './open-ledger.ts';
import type { ReportOptions } from './options.ts';
import { formatOfFile, putOut } from './put-out.ts';
import { requestOf } from './request.ts';
import { asUsageError } from './unknown-column.ts';

/**
 * The way of every report: options, ledger, table, text. The builder gets the ledger and the
 * request and knows nothing of where they came from.
 *
 * @param askOfLedger the options that are held against the ledger, where not all of them speak of it
 */
export async function printReport<Options extends Omit<ReportOptions, 'by'>>(
  host: Host,
  command: Command,
  build: (ledger: Ledger, request: ReportRequest, options: Options) => Report | Promise<Report>,
  askOfLedger: (options: Options) => Options = (options) => options,
): Promise<void> {
  const options = command.optsWithGlobals<Options & GlobalOptions>();
  const ledger = await openLedger(host, options);
  const format = options.format ?? formatOfFile(options.output, FORMATS);
  const report = await built(options.columns, format, () =>
    build(ledger, requestOf(ledger, askOfLedger(options), host.today()), options),
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
  build: () => Report | Promise<Report>,
): Promise<Report> {
  try {
    const report = await build();
    const isForPeople = format !== 'csv' && format !== 'json';
    return columns === undefined ? report : chooseColumns(report, columns, isForPeople);
  } catch (thrown) {
    throw asUsageError(thrown);
  }
}
