import type { ReportOptions } from '../cli/options.ts';
import type { ReportEntry } from '../cli/report-entry.ts';
import { addReportCommand } from '../cli/reports.ts';
import { asUsageError, requestOf } from '../cli/request.ts';
import { nodeHost } from '../host/node-host.ts';
import type { Ledger } from '../model/ledger.ts';
import { renderDocumentJson } from '../render/document-json.ts';
import { renderJson } from '../render/json.ts';
import type { Document } from '../report/document.ts';
import type { Report } from '../report/table.ts';
import type { Asked } from './asked.ts';
import { optionsFor, todayOf } from './options-for.ts';
import { inPlainWords } from './plain-words.ts';
import type { Reported, ReportedPage } from './report-types.ts';
import type { ReportRow } from './row-types.ts';

/** The object that the command prints: by way of the same renderer, so that they cannot differ. */
export function reported<Row extends ReportRow = ReportRow>(
  build: () => Promise<Report>,
): Promise<Reported<Row>> {
  return inPlainWords(async () => {
    try {
      return JSON.parse(renderJson(await build())) as Reported<Row>;
    } catch (thrown) {
      throw asUsageError(thrown);
    }
  });
}

/** The same for a report that a command of the same words prints. */
export function askedReport<Row extends ReportRow, Words extends object>(
  entry: ReportEntry<Words>,
  ledger: Ledger,
  asked: Pick<Asked, 'today'>,
  operands: readonly string[] = [],
): Promise<Reported<Row>> {
  return reported(async () => {
    const { options, request } = requestFor(entry, ledger, asked);
    return entry.build(ledger, request, options, operands, nodeHost());
  });
}

/** What is asked of a report, held against the ledger. */
export function requestFor<Words extends object>(
  entry: ReportEntry<Words>,
  ledger: Ledger,
  { today, ...words }: Pick<Asked, 'today'>,
) {
  const options = optionsFor<ReportOptions & Words>(
    (program, host) => addReportCommand(program, host, entry),
    words,
    OF_TABLES,
  );
  const request = requestOf(ledger, entry.ofLedger?.(options) ?? options, todayOf(today));
  return { options, request };
}

/** Options that say in which form a table is wanted, and where. */
const OF_TABLES = ['columns', 'notes', 'format', 'decimal', 'output'];

export function reportedPage(build: () => Promise<Document>): Promise<ReportedPage> {
  return inPlainWords(async () => JSON.parse(renderDocumentJson(await build())) as ReportedPage);
}
