import type { MeasuredPart } from '../../model/ledger.ts';
import type { JudgedTrial } from './judged-trial.ts';

/** What of a tree's season a measured part is made from. */
const MADE_FROM: Readonly<Record<MeasuredPart, 'borne' | 'weighed' | 'sound' | 'ripened'>> = {
  productivity: 'borne',
  size: 'weighed',
  soundness: 'sound',
  ripened: 'ripened',
};

/**
 * By item, the parts of which anything at all was seen: keys of traits and measured parts.
 *
 * @param sites only there; everywhere if left out
 */
export function partsSeen(
  trial: JudgedTrial,
  sites?: readonly number[],
): readonly ReadonlySet<string>[] {
  const isThere = ({ site }: { readonly site: number }) => sites?.includes(site) !== false;
  const tasted = sites === undefined ? trial.tasted : trial.tasted.filter(isThere);
  const harvested = sites === undefined ? trial.harvested : trial.harvested.filter(isThere);
  const seen = Array.from({ length: trial.items }, () => new Set<string>());
  trial.traits.forEach(({ key }, at) => {
    markSeen(seen, key, tasted, ({ scores }) => scores[at]);
  });
  for (const { part } of trial.measured) {
    markSeen(seen, part, harvested, (row) => row[MADE_FROM[part]]);
  }
  return seen;
}

function markSeen<Row extends { readonly item: number }>(
  seen: readonly Set<string>[],
  key: string,
  rows: readonly Row[],
  figureOf: (row: Row) => unknown,
): void {
  const isSeen = new Uint8Array(seen.length);
  for (const row of rows) if (figureOf(row) !== undefined) isSeen[row.item] = 1;
  seen.forEach((own, item) => {
    if (isSeen[item] === 1) own.add(key);
  });
}
