import type { Selection } from '../../measure/selection.ts';
import type { Ledger } from '../../model/ledger.ts';

/** One of several gardens that are judged together. */
export interface PoolGarden {
  /** What people call it, unlike any other of them. */
  readonly name: string;
  readonly ledger: Ledger;
  /** What of it is looked at: seasons, sites. */
  readonly selection: Selection;
}
