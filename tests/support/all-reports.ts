import type { ReportEntry } from '../../src/cli/report-entry.ts';
import * as entries from '../../src/cli/reports.ts';
import { requestOf } from '../../src/cli/request.ts';
import type { Ledger } from '../../src/model/ledger.ts';
import type { Report } from '../../src/report/table.ts';
import { memoryHost } from './memory-host.ts';

/** Every report that asks for nothing more than a ledger. */
const REPORTS: ReadonlyMap<string, ReportEntry<object>> = new Map(
  Object.values(entries).flatMap((one) =>
    typeof one === 'function' || 'operands' in one ? [] : [[one.name, one]],
  ),
);

export const REPORT_NAMES: readonly string[] = [...REPORTS.keys()];

/**
 * The report that the command of that name prints where no option is given, without reading the ledger once more.
 *
 * @throws TypeError if there is no such report
 */
export async function builtReport(name: string, ledger: Ledger): Promise<Report> {
  const entry = REPORTS.get(name);
  if (entry === undefined) throw new TypeError(`no report ${name}`);
  const { host } = memoryHost({ files: {} });
  const everything = { season: [], crop: [], site: [], cultivar: [], tree: [] };
  const request = requestOf(ledger, { ...everything, confidence: 0.95 }, host.today());
  return entry.build(ledger, request, {}, [], host);
}
