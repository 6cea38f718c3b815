import { wording } from '../diagnostic.ts';
import { listed } from './rules-phrases.ts';

export const partWithoutBandWords = wording<{ part: string; low: number; high: number }>({
  rule: 'part-without-band',
  severity: 'error',
  why: 'A measured part is brought to the tasting scale by its band before it can be weighed against scores. Where the band lies is a judgement only the grower can make.',
  message: ({ part }) => `${part} is weighted in the rank but has no band`,
  advice: ({ part, low, high }) =>
    `say which ${part} is worth ${low} and which ${high} under \`bands\`: ${part}: [[WORST, ${low}], [BEST, ${high}]], or take its weight out`,
});

export const bandUnusedWords = wording<{ part: string }>({
  rule: 'band-unused',
  severity: 'hint',
  why: 'A band without a weight changes nothing.',
  message: ({ part }) => `the band of ${part} is not used: ${part} has no weight in the rank`,
  advice: ({ part }) => `add ${part} to \`weights\`, or take the band out`,
});

export const bandOffScaleWords = wording<{
  part: string;
  value: number;
  low: number;
  high: number;
}>({
  rule: 'band-off-scale',
  severity: 'error',
  why: "A band leads from a measure to the ledger's scale. A point off the scale would let one part outweigh the others.",
  message: ({ part, value, low, high }) =>
    `the band of ${part} goes to ${value}, off the scale of ${low} to ${high}`,
  advice: () => 'write each point as [measure, scale], the second number on the scale',
});

export const bandOutrunWords = wording<{
  part: string;
  crop: string;
  side: 'below' | 'above';
  beyond: number;
  of: number;
  end: string;
  score: number;
}>({
  rule: 'band-outrun',
  severity: 'warning',
  why: 'A band is flat beyond its ends. Where nearly all cultivars lie beyond the same end they all get the same score, so the part has its weight in the rank and parts nothing. A band taken over from another fruit, or typed in another unit, shows itself like this.',
  message: ({ part, crop, side, beyond, of, end, score }) =>
    `the band of ${part} tells hardly anything apart: in the ${crop} crop ${beyond} of ${of} cultivars lie ${side} its end at ${end}, and all of these get ${score}`,
  advice: ({ part }) =>
    `say which ${part} is poor and which is good for your own fruit, and in which unit; pomary yield, weights and soundness show what there is`,
});

export const standardWithoutTreeWords = wording<{ key: string }>({
  rule: 'standard-without-tree',
  severity: 'warning',
  why: 'Ripening is told in days from the standard cultivar, which needs a tree in the trial.',
  message: ({ key }) => `the standard, ${key}, has no tree in trees.yaml`,
  advice: () => 'name a cultivar that stands in the trial, or take `standard` out',
});

export const verdictLimitsWords = wording<{
  problems: readonly string[];
  low: number;
  high: number;
}>({
  rule: 'verdict-limits',
  severity: 'error',
  why: 'The verdict compares the index, which lies on the scale, with two limits. Limits off the scale or the wrong way round would increase or discard everything or nothing.',
  message: ({ problems }) => listed(problems),
  advice: ({ low, high }) =>
    `give limits with ${low} <= discard_below <= increase_above <= ${high}`,
});
