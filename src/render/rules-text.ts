import type { RuleCard } from '../diagnostics/diagnostic.ts';
import { jsonText } from './json.ts';
import { type Look, proseWidth } from './look.ts';
import { styleFor } from './style.ts';
import { hang } from './text-lines.ts';

/** Every rule with its kind and the reason for it, for people. */
export function renderRules(cards: readonly RuleCard[], look: Look): string {
  const style = styleFor(look.colorLevel);
  const lines = cards.flatMap(({ rule, severity, why }) => [
    `${style.strong(rule)} ${style[severity](severity)}`,
    ...hang('  ', why, proseWidth(look)),
  ]);
  const last = 'An error stops every table until it is mended; warnings and hints do not.';
  return `${[...lines, '', ...hang('', last, proseWidth(look))].join('\n')}\n`;
}

export function renderRulesJson(cards: readonly RuleCard[]): string {
  return jsonText({ rules: cards });
}
