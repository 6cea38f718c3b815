import type { Ledger } from '../../model/ledger.ts';
import { isMeasured, weighedParts } from './gather-trial.ts';

/** Traits with their weights; all alike where the ledger weighs none. */
export function weighedTraits(ledger: Ledger): readonly (readonly [string, number])[] {
  const weighed = weighedParts(ledger).filter(
    ([part]) => !isMeasured(part) && ledger.trial.traits.includes(part),
  );
  return weighed.length > 0 ? weighed : ledger.trial.traits.map((trait) => [trait, 1] as const);
}

/** The ledger as it is, or with all traits alike in its index where it weighs none of them. */
export function withTasteWeighed(ledger: Ledger): Ledger {
  const { trial } = ledger;
  if (weighedParts(ledger).some(([part]) => !isMeasured(part))) return ledger;
  const weights = new Map(weighedTraits(ledger));
  return { ...ledger, trial: { ...trial, rank: { ...trial.rank, weights } } };
}
