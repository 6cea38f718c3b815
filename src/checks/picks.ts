import { type Diagnostic, diagnose, wording } from '../diagnostics/diagnostic.ts';
import { DEFECTS, type Pick } from '../model/entries.ts';
import type { Ledger } from '../model/ledger.ts';
import { spotIn } from '../source/source-file.ts';
import { quantityText } from './parts/quantity-text.ts';
import { repeatsIn, treeCrop } from './parts/tree-entries.ts';
import type { Rule } from './rule.ts';

const pickDefectsExceedWords = wording<{
  fruit: number;
  defects: number;
  parts: string;
}>({
  rule: 'pick-defects-exceed',
  severity: 'error',
  why: 'A spoiled fruit is counted once, under its worst defect, so that the defects of a pick add up to at most its fruit and the rest is sound.',
  message: ({ fruit, defects, parts }) =>
    `${defects} spoiled fruit (${parts}), but only ${fruit} picked`,
  advice: () => 'count each spoiled fruit once, under its worst defect, or correct `fruit`',
});

export const pickDefectsExceed: Rule = {
  words: [pickDefectsExceedWords],
  check: findPickDefectsExceed,
};

function* findPickDefectsExceed(ledger: Ledger): Generator<Diagnostic> {
  for (const season of ledger.seasons) {
    for (const { at, fruit, defects } of season.picks) {
      const found = DEFECTS.filter((defect) => defects[defect] > 0);
      const total = found.reduce((sum, defect) => sum + defects[defect], 0);
      const last = found.at(-1);
      if (total <= fruit || last === undefined) continue;
      const parts = found.map((defect) => `${defect} ${defects[defect]}`).join(', ');
      yield diagnose(pickDefectsExceedWords, spotIn(at, last), { fruit, defects: total, parts });
    }
  }
}

const pickRepeatWords = wording<{ tree: string; crop: string; on: string }>({
  rule: 'pick-repeat',
  severity: 'warning',
  why: 'The same pick typed twice doubles the fruit of a day.',
  message: ({ tree, crop, on }) =>
    `the same pick of ${crop} fruit from tree ${tree} on ${on} is entered twice`,
  advice: () => 'delete one; if there were two alike, add them into one pick',
});

export const pickRepeat: Rule = { words: [pickRepeatWords], check: findPickRepeat };

function* findPickRepeat(ledger: Ledger): Generator<Diagnostic> {
  for (const season of ledger.seasons) {
    const keyOf = (pick: Pick) =>
      [pick.on, treeCrop(pick), pick.fruit, pick.weight, ...pick.weights].join(' ');
    for (const [{ tree, on, crop, at }, first] of repeatsIn(season.picks, keyOf)) {
      const facts = { tree: tree.id, crop: ledger.trial.cropNames[crop], on };
      yield diagnose(pickRepeatWords, at, facts, [{ at: first.at, label: 'the first one' }]);
    }
  }
}

const pickWeightBelowSumWords = wording<{ weight: string; sum: string }>({
  rule: 'pick-weight-below-sum',
  severity: 'error',
  why: 'All fruit of a pick cannot weigh less than some of them.',
  message: ({ weight, sum }) =>
    `the whole pick weighs ${weight}, less than its single weights together (${sum})`,
  advice: ({ sum }) => `correct \`weight\` (at least ${sum}) or the single weights`,
});

export const pickWeightBelowSum: Rule = {
  words: [pickWeightBelowSumWords],
  check: findPickWeightBelowSum,
};

function* findPickWeightBelowSum({ seasons, trial }: Ledger): Generator<Diagnostic> {
  for (const season of seasons) {
    for (const pick of season.picks) {
      const both = weightSum(pick);
      if (both === undefined || both.weight >= both.sum - both.slack) continue;
      yield diagnose(pickWeightBelowSumWords, spotIn(pick.at, 'weight'), {
        weight: quantityText(both.weight, 'weight', trial.units),
        sum: quantityText(both.sum, 'weight', trial.units),
      });
    }
  }
}

const pickWeightDiffersWords = wording<{ weight: string; sum: string }>({
  rule: 'pick-weight-differs',
  severity: 'warning',
  why: 'Where every fruit was weighed singly, the weights should add up to that of the whole pick within 1 % or half a gram a fruit, what a kitchen scale rounds away (common practice, no source).',
  message: ({ weight, sum }) =>
    `every fruit is weighed, ${sum} together, but the whole pick is said to weigh ${weight}`,
  advice: () =>
    'correct the one that is wrong, leave out `weight`, or give the number of `fruit` if only some were weighed singly',
});

/** A total above the sum of all single weights; one below it is `pick-weight-below-sum`. */
export const pickWeightDiffers: Rule = {
  words: [pickWeightDiffersWords],
  check: findPickWeightDiffers,
};

function* findPickWeightDiffers({ seasons, trial }: Ledger): Generator<Diagnostic> {
  for (const season of seasons) {
    for (const pick of season.picks) {
      const both = weightSum(pick);
      if (both === undefined || !both.allWeighed) continue;
      if (both.weight <= both.sum + both.slack) continue;
      yield diagnose(pickWeightDiffersWords, spotIn(pick.at, 'weight'), {
        weight: quantityText(both.weight, 'weight', trial.units),
        sum: quantityText(both.sum, 'weight', trial.units),
      });
    }
  }
}

const pickWeightsExceedWords = wording<{ fruit: number; weights: number }>({
  rule: 'pick-weights-exceed',
  severity: 'error',
  why: 'The single weights of a pick are of its own fruit, all of them or some.',
  message: ({ fruit, weights }) => `${weights} single weights, but only ${fruit} fruit picked`,
  advice: ({ weights }) => `correct \`fruit\` (at least ${weights}), or take out a weight`,
});

export const pickWeightsExceed: Rule = {
  words: [pickWeightsExceedWords],
  check: findPickWeightsExceed,
};

function* findPickWeightsExceed(ledger: Ledger): Generator<Diagnostic> {
  for (const season of ledger.seasons) {
    for (const { at, fruit, weights } of season.picks) {
      if (weights.length <= fruit) continue;
      const facts = { fruit, weights: weights.length };
      yield diagnose(pickWeightsExceedWords, spotIn(at, 'fruit'), facts);
    }
  }
}

interface WeightSum {
  /** Weight of the whole pick, g. */
  readonly weight: number;
  /** Sum of the single weights, g. */
  readonly sum: number;
  /** What rounding on a kitchen scale may make of it, g: 1 %, or half a gram a fruit if more. */
  readonly slack: number;
  readonly allWeighed: boolean;
}

/** The two weights of a pick that has both. */
function weightSum({ weight, weights, fruit }: Pick): WeightSum | undefined {
  if (weight === undefined || weights.length === 0) return undefined;
  const sum = weights.reduce((total, one) => total + one, 0);
  const slack = Math.max(sum / 100, weights.length / 2);
  return { weight, sum, slack, allWeighed: weights.length === fruit };
}
