import { gardensApart } from '../cli/open-gardens.ts';
import { askedPool, type OpenedPool, type PoolWords } from '../cli/open-pool.ts';
import type { Ledger } from '../model/ledger.ts';
import type { ReportRequest } from '../report/report-request.ts';

/** Home and the other gardens, which are open already, with what is asked of them. */
export function pooledGardens(
  home: Ledger,
  others: readonly Ledger[],
  request: ReportRequest,
  words: PoolWords,
): OpenedPool {
  const read = others.map((garden) => ({ folder: garden.trial.title, garden }));
  return askedPool(home, gardensApart(home, read), request, words);
}
