import type { Command } from 'commander';
import { didYouMean } from '../../diagnostics/did-you-mean.ts';
import type { Ripeness } from '../../model/entries.ts';
import type { Ledger } from '../../model/ledger.ts';
import { UsageError } from '../exit.ts';
import { repeatableWords } from '../options.ts';

/** Options of the reports on what was tasted. */
export interface TastedOptions {
  readonly ripeness: readonly Ripeness[];
}

const RIPENESS: readonly Ripeness[] = ['under', 'ripe', 'over'];

/** Which fruit is looked at. */
export function withRipeness(command: Command): Command {
  return command.addOption(
    repeatableWords('--ripeness <state>', 'fruit that was this ripe when tasted', RIPENESS, 'ripe'),
  );
}

/** Ripe, unless the command line says otherwise. */
export function ripenessOf({ ripeness }: TastedOptions): readonly Ripeness[] {
  return ripeness.length === 0 ? ['ripe'] : RIPENESS.filter((one) => ripeness.includes(one));
}

/** Throws a `UsageError` for a trait that the ledger does not have. */
export function traitsOf(ledger: Ledger, traits: readonly string[]): readonly string[] {
  for (const trait of traits) {
    if (ledger.trial.traits.includes(trait)) continue;
    const nearest = didYouMean(trait, ledger.trial.traits);
    const hint =
      nearest === undefined
        ? `; the traits are ${ledger.trial.traits.join(', ')}`
        : `; did you mean ${nearest}?`;
    throw new UsageError(`--trait ${trait}: no such trait${hint}`);
  }
  return traits;
}
