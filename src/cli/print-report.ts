import type { Command } from 'commander';
import type { Ledger } from '../model/ledger.ts';
import { FORMATS, renderReport } from '../render/render-report.ts';
import type { ReportRequest } from '../report/report-request.ts';
import { UnknownColumn } from '../report/row-order.ts';
import type { Report } from '../report/table.ts';
import { UsageError } from './exit.ts';
import { formatOfFile } from './format-of-file.ts';
import type { Host } from './host.ts';
import { lookOf } from './look.ts';
import { type GlobalOptions, openLedger } from './open-ledger.ts';
import type { ReportOptions } from './options.ts';
import { putOut } from './put-out.ts';
import { requestOf } from './request.ts';

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
  const report = await built(() =>
    build(ledger, requestOf(ledger, askOfLedger(options), host.today()), options),
  );
  const look = lookOf(host, host.stdout, !options.color || options.output !== undefined);
  const text = await renderReport(
    report,
    options.format ?? formatOfFile(options.output, FORMATS),
    look,
    options.decimal ?? ledger.trial.decimal,
  );
  putOut(host, options, text);
}

async function built(build: () => Report | Promise<Report>): Promise<Report> {
  try {
    return await build();
  } catch (thrown) {
    if (thrown instanceof UnknownColumn) throw new UsageError(thrown.message);
    throw thrown;
  }
}
