import type { RuleCard, Wording } from '../diagnostics/diagnostic.ts';
import * as naming from '../diagnostics/words/naming.ts';
import * as reading from '../diagnostics/words/reading.ts';
import { internalWords, rules } from './index.ts';

/** Every rule that can be reported, by name. */
export function ruleCards(): readonly RuleCard[] {
  const read = [naming, reading].flatMap((words): readonly unknown[] => Object.values(words));
  const all = [...read.filter(isWording), internalWords, ...rules.flatMap(({ words }) => words)];
  const cards = all.map(({ rule, severity, why }) => ({ rule, severity, why }));
  const byKey = new Map(cards.map((card) => [`${card.rule} ${card.severity}`, card]));
  return [...byKey.values()].sort((a, b) => (a.rule < b.rule ? -1 : 1));
}

/** The words of what is found while reading stand among the phrases they are made of. */
function isWording(exported: unknown): exported is Wording<never> {
  return (
    typeof exported === 'object' && exported !== null && 'rule' in exported && 'why' in exported
  );
}
