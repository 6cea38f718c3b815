import { type Diagnostic, diagnose, wording } from '../diagnostics/diagnostic.ts';
import type { Ledger } from '../model/ledger.ts';
import * as counts from './counts.ts';
import * as cropSeason from './crop-season.ts';
import * as crops from './crops.ts';
import * as cultivars from './cultivars.ts';
import * as days from './days.ts';
import * as fruitWeight from './fruit-weight.ts';
import * as names from './names.ts';
import * as orders from './orders.ts';
import * as photos from './photos.ts';
import * as picks from './picks.ts';
import type { Rule, Surroundings } from './rule.ts';
import * as settings from './settings.ts';
import * as sprays from './sprays.ts';
import * as tastings from './tastings.ts';
import * as trees from './trees.ts';

/** The files of this folder that hold rules; every rule that one of them exports is run. */
const FILES = [
  ...[counts, cropSeason, crops, cultivars, days, fruitWeight, names, orders, photos, picks],
  ...[settings, sprays, tastings, trees],
];

/** Every rule, by name. */
export const rules: readonly Rule[] = FILES.flatMap((file): readonly unknown[] =>
  Object.values(file),
)
  .filter(isRule)
  .sort((a, b) => (a.words[0].rule < b.words[0].rule ? -1 : 1));

function isRule(exported: unknown): exported is Rule {
  return typeof exported === 'object' && exported !== null && 'words' in exported;
}

/** The rules that can find an error, for whoever only needs to know whether figures may be had. */
export const errorRules: readonly Rule[] = rules.filter((rule) =>
  rule.words.some(({ severity }) => severity === 'error'),
);

export const internalWords = wording<{ rule: string; problem: string }>({
  rule: 'internal',
  severity: 'error',
  why: 'A check that breaks down must not pass for one that found nothing.',
  message: ({ rule, problem }) => `pomary failed in its own check ${rule}: ${problem}`,
  advice: () =>
    'this is a fault of pomary and not of your files: please report it with this line and the version of pomary',
});

/**
 * Everything the rules find in a ledger, in the order of the rules. A rule that breaks down is
 * reported as a fault of pomary, and the others still run.
 */
export function checkLedger(
  ledger: Ledger,
  toRun: readonly Rule[] = rules,
  around?: Surroundings,
): readonly Diagnostic[] {
  const found: Diagnostic[] = [];
  for (const rule of toRun) {
    try {
      for (const diagnostic of rule.check(ledger, around)) found.push(diagnostic);
    } catch (problem) {
      const facts = {
        rule: rule.words[0].rule,
        problem: problem instanceof Error ? problem.message : String(problem),
      };
      found.push(diagnose(internalWords, ledger.trial.at, facts));
    }
  }
  return found;
}
