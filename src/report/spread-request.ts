import { selectRecords } from '../measure/crop-record.ts';
import type { By } from '../measure/group-records.ts';
import { type SharedSpread, type SpreadFigure, sharedSpreads } from '../measure/shared-spread.ts';
import type { Crop, Ledger } from '../model/ledger.ts';
import type { ReportRequest } from './report-request.ts';
import type { Spread } from './spread.ts';

export interface SpreadRequest extends ReportRequest {
  /** `shared` if left out. */
  readonly spread?: Spread | undefined;
}

/**
 * The spread behind the intervals of rows, by crop; none where a row is a tree, which speaks of
 * itself, or where each row has its own. Cultivars and trees that are not shown lend theirs too.
 */
export function spreadOfRows(
  ledger: Ledger,
  { selection, spread = 'shared' }: SpreadRequest,
  by: readonly By[],
  figure: SpreadFigure,
): ReadonlyMap<Crop, SharedSpread> {
  if (spread === 'own' || by.includes('tree')) return new Map();
  const records = selectRecords(ledger, { ...selection, cultivars: [], trees: [] });
  return sharedSpreads(records, figure, by.includes('season') ? 'seasons' : 'nothing');
}
