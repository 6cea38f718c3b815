import type { Severity, Wording } from './diagnostic.ts';
import * as naming from './words/naming.ts';
import * as reading from './words/reading.ts';
import * as dates from './words/rules-dates.ts';
import * as harvest from './words/rules-harvest.ts';
import * as internal from './words/rules-internal.ts';
import * as names from './words/rules-names.ts';
import * as settings from './words/rules-settings.ts';
import * as tasting from './words/rules-tasting.ts';
import * as trees from './words/rules-trees.ts';

/** What the manual says of a rule. */
export interface RuleCard {
  readonly rule: string;
  readonly severity: Severity;
  readonly why: string;
}

/** Every rule that can be reported, by name. */
export function ruleCards(): readonly RuleCard[] {
  const cards = [naming, reading, dates, harvest, internal, names, settings, tasting, trees]
    .flatMap((words): readonly unknown[] => Object.values(words))
    .filter(isWording)
    .map(({ rule, severity, why }) => ({ rule, severity, why }));
  const byKey = new Map(cards.map((card) => [`${card.rule} ${card.severity}`, card]));
  return [...byKey.values()].sort((a, b) => (a.rule < b.rule ? -1 : 1));
}

/** The words of rules stand among the phrases they are made of. */
function isWording(exported: unknown): exported is Wording<never> {
  return (
    typeof exported === 'object' && exported !== null && 'rule' in exported && 'why' in exported
  );
}
