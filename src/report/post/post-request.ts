import type { Ledger } from '../../model/ledger.ts';
import type { ReportRequest } from '../report-request.ts';
import type { Report } from '../table.ts';

/** What is asked of a post. */
export interface PostRequest extends ReportRequest {
  /** Rows of the rank tables. */
  readonly top: number;
  readonly title?: string | undefined;
  /** YYYY-MM-DD */
  readonly date: string;
  readonly tags: readonly string[];
  /** Whether all figures follow the article, with how they were had. */
  readonly full: boolean;
  /** Whether it ends with a list of all cultivars, to lead to their cards. */
  readonly withCards?: boolean;
  /** Whether tasters are named: by first name, as the ledger writes it. */
  readonly nameTasters: boolean;
}

/** What the sections of a post are made from. */
export interface PostMaterial {
  readonly ledger: Ledger;
  readonly request: PostRequest;
  /** Seasons with entries in the selection, oldest first. */
  readonly seasons: readonly number[];
  /** All rows; the sections cut them. */
  readonly ranks: Report;
  readonly crops: Report;
  readonly yields: Report;
  readonly weights: Report;
  readonly soundness: Report;
  /** Every season of the selection. */
  readonly ripening: Report;
}
