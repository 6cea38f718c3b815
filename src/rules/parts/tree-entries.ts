import type { Tree } from '../../model/collection.ts';
import type { IsoDate } from '../../model/dates.ts';
import type { Season } from '../../model/ledger.ts';
import { type Spot, spotIn } from '../../source/source-file.ts';

/** Something seen on, taken from or done to one tree on a day. */
export interface TreeEntry {
  readonly kind: 'count' | 'pick' | 'drop' | 'sample' | 'growth' | 'event';
  readonly tree: Tree;
  readonly on: IsoDate;
  /** The value to point at where date and tree do not agree. */
  readonly at: Spot;
}

/** Everything in a season file that concerns one tree. */
export function* treeEntries(season: Season): Generator<TreeEntry> {
  for (const entry of season.counts) yield dated('count', entry);
  for (const entry of season.picks) yield dated('pick', entry);
  for (const entry of season.drops) yield dated('drop', entry);
  for (const entry of season.growth) yield dated('growth', entry);
  for (const { samples, on } of season.tastings) {
    for (const { tree, at } of samples) yield { kind: 'sample', tree, on, at: spotIn(at, 'tree') };
  }
  for (const event of season.events) {
    if (event.target.kind === 'tree') {
      yield dated('event', { tree: event.target.tree, on: event.on, at: event.at });
    }
  }
}

function dated(kind: TreeEntry['kind'], entry: Omit<TreeEntry, 'kind'>): TreeEntry {
  return { kind, tree: entry.tree, on: entry.on, at: spotIn(entry.at, 'on') };
}
