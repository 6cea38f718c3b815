import type { Selection } from '../../measure/selection.ts';
import type { Ledger } from '../../model/ledger.ts';
import type { ReportRequest } from '../report-request.ts';
import type { Report } from '../table.ts';

type Source = (ledger: Ledger, request: ReportRequest) => Report | Promise<Report>;

/** Reports that a card quotes. */
export interface CardSources {
  readonly rank: Source;
  /** Left out, the card gives no advice. */
  readonly verdict?: Source;
}

export interface CardRequest {
  /** Key of the cultivar. */
  readonly cultivar: string;
  /** Seasons and crops to tell of; the cultivar's own are added. */
  readonly selection: Pick<Selection, 'seasons' | 'crops'>;
  readonly confidence: number;
  /** As of a `ReportRequest`. */
  readonly today?: ReportRequest['today'];
  /** Remarks to show at most. */
  readonly remarks: number;
}
