import type { MeasuredPart } from '../model/ledger.ts';
import type { HarvestRow, JudgedTrial } from './judged-trial.ts';

/** What of a tree's season a measured part is made from. */
const MADE_FROM: Readonly<Record<MeasuredPart, 'borne' | 'weighed' | 'sound' | 'ripened'>> = {
  productivity: 'borne',
  size: 'weighed',
  soundness: 'sound',
  ripened: 'ripened',
} satisfies Record<MeasuredPart, keyof HarvestRow>;

/** By item, the parts of which anything at all was seen: keys of traits and measured parts. */
export function partsSeen({
  items,
  traits,
  measured,
  tasted,
  harvested,
}: JudgedTrial): readonly ReadonlySet<string>[] {
  const seen = Array.from({ length: items }, () => new Set<string>());
  for (const { item, scores } of tasted) {
    for (const [at, { key }] of traits.entries()) {
      if (scores[at] !== undefined) seen[item]?.add(key);
    }
  }
  for (const row of harvested) {
    for (const { part } of measured) {
      if (row[MADE_FROM[part]] !== undefined) seen[row.item]?.add(part);
    }
  }
  return seen;
}
