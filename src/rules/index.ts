import { type Diagnostic, diagnose } from '../diagnostics/diagnostic.ts';
import { internalWords } from '../diagnostics/words/rules-internal.ts';
import type { Ledger } from '../model/ledger.ts';
import { bandOffScale } from './band-off-scale.ts';
import { bandOutrun } from './band-outrun.ts';
import { bandUnused } from './band-unused.ts';
import { countBranchesJump } from './count-branches-jump.ts';
import { countRepeat } from './count-repeat.ts';
import { cropOutOfSeason } from './crop-out-of-season.ts';
import { cropUnexpected } from './crop-unexpected.ts';
import { cultivarLoop } from './cultivar-loop.ts';
import { cultivarWithoutTrees } from './cultivar-without-trees.ts';
import { entryAfterRemoval } from './entry-after-removal.ts';
import { entryBeforeTree } from './entry-before-tree.ts';
import { entryOutsideSeason } from './entry-outside-season.ts';
import { frostOutsideSeason } from './frost-outside-season.ts';
import { fruitWeightUnlikely } from './fruit-weight-unlikely.ts';
import { girthShrinks } from './girth-shrinks.ts';
import { moveNowhere } from './move-nowhere.ts';
import { nameCapital } from './name-capital.ts';
import { nameGenus } from './name-genus.ts';
import { nameLength } from './name-length.ts';
import { nameMarks } from './name-marks.ts';
import { nameNumerals } from './name-numerals.ts';
import { nameQuotes } from './name-quotes.ts';
import { nameRepeat } from './name-repeat.ts';
import { nameSingleLetter } from './name-single-letter.ts';
import { nameSuperlative } from './name-superlative.ts';
import { nameWord } from './name-word.ts';
import { orderAgainstScores } from './order-against-scores.ts';
import { partWithoutBand } from './part-without-band.ts';
import { photoMissing } from './photo-missing.ts';
import { photoOutside } from './photo-outside.ts';
import { pickDefectsExceed } from './pick-defects-exceed.ts';
import { pickExceedsCount } from './pick-exceeds-count.ts';
import { pickRepeat } from './pick-repeat.ts';
import { pickWeightBelowSum } from './pick-weight-below-sum.ts';
import { pickWeightDiffers } from './pick-weight-differs.ts';
import { pickWeightsExceed } from './pick-weights-exceed.ts';
import type { Rule, Surroundings } from './rule.ts';
import { sheetHalfFilled } from './sheet-half-filled.ts';
import { sprayNowhere } from './spray-nowhere.ts';
import { sprayWait } from './spray-wait.ts';
import { standardWithoutTree } from './standard-without-tree.ts';
import { synonymIsName } from './synonym-is-name.ts';
import { tastingEmpty } from './tasting-empty.ts';
import { treeDatesCrossed } from './tree-dates-crossed.ts';
import { treeSilent } from './tree-silent.ts';
import { verdictLimits } from './verdict-limits.ts';
import { wordUnlisted } from './word-unlisted.ts';

/** Every rule, by name. */
export const rules: readonly Rule[] = [
  bandOffScale,
  bandOutrun,
  bandUnused,
  countBranchesJump,
  countRepeat,
  cropOutOfSeason,
  cropUnexpected,
  cultivarLoop,
  cultivarWithoutTrees,
  entryAfterRemoval,
  entryBeforeTree,
  entryOutsideSeason,
  frostOutsideSeason,
  fruitWeightUnlikely,
  girthShrinks,
  moveNowhere,
  nameCapital,
  nameGenus,
  nameLength,
  nameMarks,
  nameNumerals,
  nameQuotes,
  nameRepeat,
  nameSingleLetter,
  nameSuperlative,
  nameWord,
  orderAgainstScores,
  partWithoutBand,
  photoMissing,
  photoOutside,
  pickDefectsExceed,
  pickExceedsCount,
  pickRepeat,
  pickWeightBelowSum,
  pickWeightDiffers,
  pickWeightsExceed,
  sheetHalfFilled,
  sprayNowhere,
  sprayWait,
  standardWithoutTree,
  synonymIsName,
  tastingEmpty,
  treeDatesCrossed,
  treeSilent,
  verdictLimits,
  wordUnlisted,
];

/** The rules that can find an error, for whoever only needs to know whether figures may be had. */
export const errorRules: readonly Rule[] = rules.filter((rule) =>
  rule.words.some(({ severity }) => severity === 'error'),
);

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
