import type { Place, Span } from '../source/source-file.ts';

/** How much it matters. Only an error stops the reports. */
export type Severity = 'error' | 'warning' | 'hint';

/** A second place that helps to understand the first ("first named here"). */
export interface Related<P extends Place = Place> {
  readonly at: P;
  readonly label: string;
}

/** Something to say about a place in the ledger. */
export interface Diagnostic<P extends Place = Place> {
  readonly severity: Severity;
  /** Stable kebab-case name of the rule, for example `tree-unknown`. */
  readonly rule: string;
  /** What is wrong, in one line without a final stop. */
  readonly message: string;
  /** What to do or to type instead; empty where the message says it all. */
  readonly advice: string;
  readonly at: P;
  readonly related: readonly Related<P>[];
}

/** A diagnostic whose places have been found in their files. */
export type LocatedDiagnostic = Diagnostic<Span>;

/** The words of one rule: everything about it that a person reads. */
export interface Wording<Facts> {
  readonly rule: string;
  readonly severity: Severity;
  /** Why the rule exists, in a sentence or two, for the manual. */
  readonly why: string;
  message(facts: Facts): string;
  advice?(facts: Facts): string;
}

/** Keeps the type of the facts that a wording needs. */
export function wording<Facts>(words: Wording<Facts>): Wording<Facts> {
  return words;
}

/** A diagnostic of the given rule at a place. */
export function diagnose<Facts>(
  words: Wording<Facts>,
  at: Place,
  facts: Facts,
  related: readonly Related[] = [],
): Diagnostic {
  const told = cutShort(facts);
  return {
    severity: words.severity,
    rule: words.rule,
    message: words.message(told),
    advice: words.advice?.(told) ?? '',
    at,
    related,
  };
}

/** Far more than any name or reason has, and still a message that can be read. */
const MOST_LETTERS = 200;

/** The facts with long text cut short, so that no message repeats a whole page of a file. */
function cutShort<Facts>(facts: Facts): Facts {
  if (typeof facts !== 'object' || facts === null) return facts;
  const entries = Object.entries(facts).map(([key, fact]): [string, unknown] => [
    key,
    typeof fact === 'string' && fact.length > MOST_LETTERS
      ? `${Array.from(fact.slice(0, 2 * MOST_LETTERS))
          .slice(0, MOST_LETTERS)
          .join('')}...`
      : fact,
  ]);
  return Object.fromEntries(entries) as Facts;
}

/** What the manual says of a rule. */
export type RuleCard = Pick<Wording<never>, 'rule' | 'severity' | 'why'>;

/** How many diagnostics there are of each severity. */
export interface SeverityCounts {
  readonly errors: number;
  readonly warnings: number;
  readonly hints: number;
}

export function countSeverities(diagnostics: readonly LocatedDiagnostic[]): SeverityCounts {
  const count = (severity: LocatedDiagnostic['severity']): number =>
    diagnostics.filter((one) => one.severity === severity).length;
  return { errors: count('error'), warnings: count('warning'), hints: count('hint') };
}
