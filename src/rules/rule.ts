import type { Diagnostic, Wording } from '../diagnostics/diagnostic.ts';
import type { Ledger } from '../model/ledger.ts';

/** One check that relates entries of a ledger to each other. Its file is named after it. */
export interface Rule {
  /** The words of everything it may report; the first names the rule. */
  readonly words: readonly [Wording<never>, ...Wording<never>[]];
  /** Everything it finds, in time linear in the entries (but for sorting). */
  check(ledger: Ledger): Iterable<Diagnostic>;
}
