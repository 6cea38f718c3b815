import type { Selection } from '../../measure/selection.ts';
import type { Ledger } from '../../model/ledger.ts';
import type { ReportRequest } from '../report-request.ts';
import type { Report } from '../table.ts';

/** One of two ledgers, or two seasons of one, that are set against each other. */
export interface Side {
  readonly ledger: Ledger;
  readonly selection: Selection;
  /** How people call it, in few letters. */
  readonly label: string;
}

export interface Comparison {
  readonly before: Side;
  readonly after: Side;
  readonly confidence: number;
  /** As of a `ReportRequest`. */
  readonly today?: ReportRequest['today'];
  /** Rows to show of a table. */
  readonly top: number;
  readonly rank: (ledger: Ledger, request: ReportRequest) => Report | Promise<Report>;
}
