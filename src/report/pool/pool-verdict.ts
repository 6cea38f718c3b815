import type { Pooled } from '../../judge/pool/pool-crops.ts';
import type { Verdict } from '../../judge/verdict/verdict.ts';
import type { VerdictSettings } from '../../model/ledger.ts';

/** What to plant in a garden like these, and in a few words what it waits for where that is open. */
export interface PoolVerdict {
  readonly verdict: Verdict;
  readonly waits: string;
}

/**
 * By home's own marks, seasons and tastings, held against what a garden that is not among them can expect: a neighbour
 * plants there, and not in the middle. What only one garden judged is watched, whatever it says.
 */
export function poolVerdict(
  { newLow, newHigh, at, seasons, tastings }: Pooled,
  { minSeasons, minTastings, increaseAbove, discardBelow }: VerdictSettings,
): PoolVerdict {
  if (at.length < 2) return { verdict: 'watch', waits: 'judged in one garden' };
  if (seasons < minSeasons) return { verdict: 'watch', waits: 'too few seasons' };
  if (tastings < minTastings) return { verdict: 'watch', waits: 'too few tastings' };
  if (newLow > increaseAbove) return { verdict: 'increase', waits: '' };
  if (newLow > discardBelow) return { verdict: 'retain', waits: '' };
  if (newHigh < discardBelow) return { verdict: 'discard', waits: '' };
  return { verdict: 'watch', waits: 'may go either way' };
}
