import type { Selection } from '../../measure/selection.ts';
import type { Cultivar } from '../../model/collection.ts';
import type { Ledger } from '../../model/ledger.ts';
import type { Section } from '../page.ts';
import type { ReportRequest } from '../report-request.ts';
import type { Report } from '../table.ts';

/** Reports that a card quotes. */
export interface CardSources {
  readonly rank: (ledger: Ledger, request: ReportRequest) => Report | Promise<Report>;
  /** What is advised of the cultivar; left out, the card gives no advice. */
  readonly verdict?: (
    ledger: Ledger,
    cultivar: Cultivar,
    request: ReportRequest,
  ) => Section | undefined | Promise<Section | undefined>;
}

export interface CardRequest {
  /** Key of the cultivar. */
  readonly cultivar: string;
  /** Seasons and crops to tell of; the cultivar's own are added. */
  readonly selection: Pick<Selection, 'seasons' | 'crops'>;
  readonly confidence: number;
  /** Remarks to show at most. */
  readonly remarks: number;
}
