import { didYouMean } from '../diagnostics/did-you-mean.ts';
import { STEADY_PARTS } from '../judge/stability/environment-table.ts';
import type { Ledger } from '../model/ledger.ts';
import { UsageError } from './exit.ts';

/** What `--of` names. Throws a `UsageError` where it is neither measured nor a trait of the ledger. */
export function steadyFigureOf(ledger: Ledger, word: string): string {
  const known: readonly string[] = [...STEADY_PARTS, ...ledger.trial.traits];
  if (known.includes(word)) return word;
  const nearest = didYouMean(word, known);
  const meant = nearest === undefined ? '' : `; did you mean ${nearest}?`;
  throw new UsageError(`--of ${word}: it is one of ${known.join(', ')}${meant}`);
}
