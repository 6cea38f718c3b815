import { POOL } from '../cli/reports.ts';
import type { Ledger } from '../model/ledger.ts';
import { poolNamesReport } from '../report/pool/pool-names-report.ts';
import { poolReport } from '../report/pool/pool-report.ts';
import type { Report } from '../report/table.ts';
import type { AskedPool } from './asked.ts';
import { pooledGardens } from './pooled-gardens.ts';
import { requestFor } from './reported.ts';

/** What the command would print of these gardens. */
export function pooledReport(home: Ledger, others: readonly Ledger[], words: AskedPool): Report {
  const { options, request } = requestFor(POOL, home, words);
  const { material, asked } = pooledGardens(home, others, request, options);
  return options.names === true ? poolNamesReport(material, asked) : poolReport(material, asked);
}
