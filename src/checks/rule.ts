import type { Diagnostic, Wording } from '../diagnostics/diagnostic.ts';
import type { Ledger } from '../model/ledger.ts';

/** What a check may ask of the folder that the ledger lies in. */
export interface Surroundings {
  /** Whether there is a file at a path inside the folder. */
  isFile(path: string): boolean;
}

/** One check that relates entries of a ledger to each other. Its file is named after it. */
export interface Rule {
  /** The words of everything it may report; the first names the rule. */
  readonly words: readonly [Wording<never>, ...Wording<never>[]];
  /**
   * Everything it finds, in time linear in the entries (but for sorting). Where nothing is known of
   * what lies around the ledger, nothing is said of it.
   */
  check(ledger: Ledger, around: Surroundings | undefined): Iterable<Diagnostic>;
}
