import { wording } from '../diagnostic.ts';

export const countBranchesJumpWords = wording<{
  tree: string;
  crop: string;
  before: number;
  beforeOn: string;
  now: number;
}>({
  rule: 'count-branches-jump',
  severity: 'warning',
  why: 'Fruit per branch rests on the number of branches. Between two counts of a crop in a season it seldom changes by more than half unless the tree was pruned or died back (common practice, no source).',
  message: ({ tree, crop, before, beforeOn, now }) =>
    `tree ${tree} had ${before} branches for its ${crop} crop on ${beforeOn}, and now ${now}`,
  advice: () =>
    'count the branches in the same way each time; if it was pruned in between, enter that as an event',
});

export const countRepeatWords = wording<{ tree: string; crop: string; on: string }>({
  rule: 'count-repeat',
  severity: 'warning',
  why: 'A tree is counted once a day for a crop. Of two counts the greater would be taken as its load.',
  message: ({ tree, crop, on }) => `the ${crop} crop of tree ${tree} is counted twice on ${on}`,
  advice: () => 'keep the count that is right and delete the other, or correct its tree or date',
});

export const pickDefectsExceedWords = wording<{
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

export const pickWeightsExceedWords = wording<{ fruit: number; weights: number }>({
  rule: 'pick-weights-exceed',
  severity: 'error',
  why: 'The single weights of a pick are of its own fruit, all of them or some.',
  message: ({ fruit, weights }) => `${weights} single weights, but only ${fruit} fruit picked`,
  advice: ({ weights }) => `correct \`fruit\` (at least ${weights}), or take out a weight`,
});

export const pickWeightBelowSumWords = wording<{ weight: string; sum: string }>({
  rule: 'pick-weight-below-sum',
  severity: 'error',
  why: 'All fruit of a pick cannot weigh less than some of them.',
  message: ({ weight, sum }) =>
    `the whole pick weighs ${weight}, less than its single weights together (${sum})`,
  advice: ({ sum }) => `correct \`weight\` (at least ${sum}) or the single weights`,
});

export const pickWeightDiffersWords = wording<{ weight: string; sum: string }>({
  rule: 'pick-weight-differs',
  severity: 'warning',
  why: 'Where every fruit was weighed singly, the weights should add up to that of the whole pick within 1 % or half a gram a fruit, what a kitchen scale rounds away (common practice, no source).',
  message: ({ weight, sum }) =>
    `every fruit is weighed, ${sum} together, but the whole pick is said to weigh ${weight}`,
  advice: () =>
    'correct the one that is wrong, leave out `weight`, or give the number of `fruit` if only some were weighed singly',
});

export const pickExceedsCountWords = wording<{
  tree: string;
  crop: string;
  gone: number;
  counted: number;
  countedOn: string;
}>({
  rule: 'pick-exceeds-count',
  severity: 'warning',
  why: 'Fruit picked and dropped from the day of the last count on were hanging that day, or set later. More than a tenth and more than two fruit over the count (common practice, no source) points to a slip or to a late set that was never counted.',
  message: ({ tree, crop, gone, counted, countedOn }) =>
    `${gone} ${crop} fruit of tree ${tree} picked or dropped since ${countedOn}, when only ${counted} were counted`,
  advice: () =>
    'check the tree, crop and numbers; if more fruit set later, enter a later count if you made one',
});

export const pickRepeatWords = wording<{ tree: string; crop: string; on: string }>({
  rule: 'pick-repeat',
  severity: 'warning',
  why: 'The same pick typed twice doubles the fruit of a day.',
  message: ({ tree, crop, on }) =>
    `the same pick of ${crop} fruit from tree ${tree} on ${on} is entered twice`,
  advice: () => 'delete one; if there were two alike, add them into one pick',
});

export const fruitWeightUnlikelyWords = wording<{
  weight: string;
  isMean: boolean;
  cultivar: string;
  crop: string;
  usual: string;
  weighed: number;
  meant: string | undefined;
}>({
  rule: 'fruit-weight-unlikely',
  severity: 'warning',
  why: "A slipped decimal point spoils a mean. A weight is questioned when its modified z-score, on logarithms, against all weights of that cultivar's crop is beyond 4.5 (after Iglewicz and Hoaglin 1993, who use 3.5); it takes at least eight weights.",
  message: ({ weight, isMean, cultivar, crop, usual, weighed }) =>
    `${isMean ? 'a mean fruit weight' : 'a fruit'} of ${weight} is far from what ${cultivar} bears in its ${crop} crop: half of ${weighed} weights lie at or below ${usual}`,
  advice: ({ meant, isMean }) => {
    if (meant !== undefined) return `did you mean ${meant}?`;
    return isMean ? 'check `fruit` and `weight`' : 'check the weight, the tree and the crop';
  },
});

export const girthShrinksWords = wording<{
  tree: string;
  girth: string;
  before: string;
  beforeOn: string;
}>({
  rule: 'girth-shrinks',
  severity: 'warning',
  why: 'A trunk does not grow thinner. Less than nine tenths of the girth before (common practice, no source), without winter damage or pruning in between, points to a slip or to another place on the trunk.',
  message: ({ tree, girth, before, beforeOn }) =>
    `girth of tree ${tree} is ${girth}, but was ${before} on ${beforeOn}`,
  advice: () => 'check both, and measure at the same height each time',
});
