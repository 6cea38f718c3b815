import type { Ledger } from '../../model/ledger.ts';
import { areWhole } from './whole.ts';

/** Keys of the cultivars that have a tree; undefined where the trees could not all be read. */
export function plantedCultivars(ledger: Ledger): ReadonlySet<string> | undefined {
  if (!areWhole(ledger, 'cultivars.yaml', 'trees.yaml')) return undefined;
  return new Set([...ledger.trees.values()].map(({ cultivar }) => cultivar.key));
}
