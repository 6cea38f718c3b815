import { type Diagnostic, diagnose } from '../diagnostics/diagnostic.ts';
import { verdictLimitsWords } from '../diagnostics/words/rules-settings.ts';
import type { Ledger } from '../model/ledger.ts';
import { spotIn } from '../source/source-file.ts';
import type { Rule } from './rule.ts';

export const verdictLimits: Rule = { words: [verdictLimitsWords], check };

function* check({ trial }: Ledger): Generator<Diagnostic> {
  const { low, high } = trial.scale;
  const { increaseAbove, discardBelow } = trial.verdict;
  const isOff = (limit: number) => limit < low || limit > high;
  const problems: string[] = [];
  if (isOff(increaseAbove)) problems.push(`increase_above is ${increaseAbove}, off the scale`);
  if (isOff(discardBelow)) problems.push(`discard_below is ${discardBelow}, off the scale`);
  if (increaseAbove < discardBelow) {
    problems.push(`increase_above (${increaseAbove}) is less than discard_below (${discardBelow})`);
  }
  if (problems.length === 0) return;
  yield diagnose(verdictLimitsWords, spotIn(trial.at, 'verdict'), { problems, low, high });
}
