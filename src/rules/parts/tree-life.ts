import type { Tree } from '../../model/collection.ts';
import type { PartialDate } from '../../model/dates.ts';

export interface Arrival {
  readonly key: 'received' | 'planted';
  readonly date: PartialDate;
}

/** When a tree came: received, or else planted, whichever its entry puts earlier. */
export function arrivalOf(tree: Tree): Arrival | undefined {
  const { received, planted } = tree;
  if (received === undefined) {
    return planted === undefined ? undefined : { key: 'planted', date: planted };
  }
  return planted !== undefined && planted.earliest < received.earliest
    ? { key: 'planted', date: planted }
    : { key: 'received', date: received };
}
