import { join, resolve } from 'node:path';
import type { Command } from 'commander';
import type { Ledger } from '../model/ledger.ts';
import { renderReport } from '../render/render-report.ts';
import type { ReportRequest } from '../report/report-request.ts';
import { UnknownColumn } from '../report/row-order.ts';
import type { Report } from '../report/table.ts';
import { UsageError } from './exit.ts';
import { findLedger } from './find-ledger.ts';
import type { Host } from './host.ts';
import { lookOf } from './look.ts';
import { type GlobalOptions, openLedger } from './open-ledger.ts';
import type { ReportOptions } from './options.ts';
import { requestOf } from './request.ts';

/**
 * The way of every report: options, ledger, table, text. The builder gets the ledger and the
 * request and knows nothing of where they came from.
 */
export async function printReport<Options extends ReportOptions>(
  host: Host,
  command: Command,
  build: (ledger: Ledger, request: ReportRequest, options: Options) => Report | Promise<Report>,
): Promise<void> {
  const options = command.optsWithGlobals<Options & GlobalOptions>();
  const ledger = await openLedger(host, options);
  const report = await built(() =>
    build(ledger, requestOf(ledger, options, host.today()), options),
  );
  if (options.output !== undefined) refuseOwnFile(host, options, ledger, options.output);
  const look = lookOf(host, host.stdout, !options.color || options.output !== undefined);
  const text = await renderReport(
    report,
    options.format,
    look,
    options.decimal ?? ledger.trial.decimal,
  );
  if (options.output === undefined) host.stdout.write(text);
  else host.files.write(resolve(host.cwd, options.output), text);
}

/** Throws a `UsageError` where the table would take the place of a file of the ledger. */
function refuseOwnFile(host: Host, options: GlobalOptions, ledger: Ledger, output: string): void {
  if (output === '') throw new UsageError('--output needs the name of a file');
  const folder = findLedger(host, options.ledger);
  const path = resolve(host.cwd, output);
  if ([...ledger.files.keys()].some((file) => join(folder, file) === path)) {
    throw new UsageError(`--output ${output} is a file of the ledger itself; give another name`);
  }
}

async function built(build: () => Report | Promise<Report>): Promise<Report> {
  try {
    return await build();
  } catch (thrown) {
    if (thrown instanceof UnknownColumn) throw new UsageError(thrown.message);
    throw thrown;
  }
}
