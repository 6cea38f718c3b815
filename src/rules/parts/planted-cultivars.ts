import type { Ledger } from '../../model/ledger.ts';
import { isWhole } from './whole.ts';

/** Keys of the cultivars that have a tree; undefined where the trees could not all be read. */
export function plantedCultivars(ledger: Ledger): ReadonlySet<string> | undefined {
  if (!isWhole(ledger, 'trees.yaml')) return undefined;
  return new Set([...ledger.trees.values()].map(({ cultivar }) => cultivar.key));
}
