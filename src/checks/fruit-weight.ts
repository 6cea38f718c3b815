import { type Diagnostic, diagnose, wording } from '../diagnostics/diagnostic.ts';
import { groupBy } from '../measure/group-by.ts';
import type { Pick } from '../model/entries.ts';
import type { Crop, Ledger } from '../model/ledger.ts';
import { spotIn } from '../source/source-file.ts';
import { median, medianAbsoluteDeviation } from '../stats/describe/quantile.ts';
import { quantityText } from './parts/quantity-text.ts';
import type { Rule } from './rule.ts';

/** Fewer weights do not say what is usual (common practice, no source). */
const FEWEST = 8;
/** Of all cultivars together, which are told within wider limits. */
const FEWEST_OF_ALL = 4;

/**
 * Fruit of one tree differ by about a fifth of their weight at least (common practice, no source).
 * It keeps a few weights that happen to be alike from making the next one look odd.
 */
const LEAST_SPREAD = 0.2;

/**
 * The same for fruit of different cultivars: with it, a weight is questioned that is five times the
 * usual or a fifth of it (common practice, no source).
 */
const LEAST_SPREAD_OF_ALL = 0.36;

/** What fruit of a cultivar's crop usually weigh. */
interface WeightNorm {
  readonly weighed: number;
  /** g */
  readonly usual: number;
  /** The weights, g, whose modified z-scores are minus and plus `score`. */
  limits(score: number): { readonly light: number; readonly heavy: number };
}

/**
 * The norm of some weights, g, all above 0; undefined where there are too few.
 *
 * The score is the modified z-score 0.6745 (x - median) / MAD of the logarithms, since weights of
 * fruit differ by ratios (Iglewicz and Hoaglin 1993, How to Detect and Handle Outliers).
 */
function weightNorm(
  weights: readonly number[],
  fewest: number,
  leastSpread: number,
): WeightNorm | undefined {
  if (weights.length < fewest) return undefined;
  // Sorted as plain numbers first: the medians then sort what is in order, several times faster.
  const logs = Array.from(Float64Array.from(weights).sort(), Math.log);
  const centre = median(logs);
  const deviation = medianAbsoluteDeviation(logs);
  if (centre === undefined || deviation === undefined) return undefined;
  // The deviation comes scaled by 1.4826 = 1 / 0.6745.
  const spread = Math.max(deviation, leastSpread);
  return {
    weighed: logs.length,
    usual: Math.exp(centre),
    limits: (score) => ({
      light: Math.exp(centre - score * spread),
      heavy: Math.exp(centre + score * spread),
    }),
  };
}

const fruitWeightUnlikelyWords = wording<{
  weight: string;
  isMean: boolean;
  /** Undefined where it is held against all cultivars. */
  cultivar: string | undefined;
  crop: string;
  usual: string;
  weighed: number;
  meant: string | undefined;
}>({
  rule: 'fruit-weight-unlikely',
  severity: 'warning',
  why: "A slipped decimal point spoils a mean. A weight is questioned when its modified z-score, on logarithms, against all weights of that cultivar's crop is beyond 4.5 (after Iglewicz and Hoaglin 1993, who use 3.5); it takes at least eight weights. Where a cultivar has fewer, four of all cultivars tell what is usual, within wider limits.",
  message: ({ weight, isMean, cultivar, crop, usual, weighed }) =>
    `${isMean ? 'a mean fruit weight' : 'a fruit'} of ${weight} is far from what ${cultivar === undefined ? `cultivars bear in the ${crop} crop here` : `${cultivar} bears in its ${crop} crop`}: half of ${weighed} weights lie at or below ${usual}`,
  advice: ({ meant, isMean }) => {
    if (meant !== undefined) return `did you mean ${meant}?`;
    return isMean ? 'check `fruit` and `weight`' : 'check the weight, the tree and the crop';
  },
});

export const fruitWeightUnlikely: Rule = {
  words: [fruitWeightUnlikelyWords],
  check: findFruitWeightUnlikely,
};

/** Beyond this modified z-score a weight is questioned; within the other it would be believed. */
const UNLIKELY = 4.5;
const LIKELY = 3.5;

function* findFruitWeightUnlikely(ledger: Ledger): Generator<Diagnostic> {
  const picks = ledger.seasons.flatMap((season) => season.picks);
  const byCultivarCrop = groupBy(picks, ({ crop, tree }) => `${crop} ${tree.cultivar.key}`);
  const ofAll = new Map<Crop, WeightNorm | undefined>();
  const normOfAll = (crop: Crop) => {
    if (!ofAll.has(crop)) {
      const weights = picks.filter((pick) => pick.crop === crop).flatMap(usualWeights);
      ofAll.set(crop, weightNorm(weights, FEWEST_OF_ALL, LEAST_SPREAD_OF_ALL));
    }
    return ofAll.get(crop);
  };
  for (const group of byCultivarCrop.values()) {
    const own = weightNorm(group.flatMap(usualWeights), FEWEST, LEAST_SPREAD);
    const norm = own ?? (group[0] && normOfAll(group[0].crop));
    if (norm === undefined) continue;
    const { light, heavy } = norm.limits(UNLIKELY);
    const isUsual = (weight: number) => weight >= light && weight <= heavy;
    for (const pick of group) {
      const weights = fruitWeights(pick);
      if (weights.every(isUsual)) continue;
      for (const [index, weight] of weights.entries()) {
        if (!isUsual(weight)) yield unlikely(ledger, pick, index, norm, own !== undefined);
      }
    }
  }
}

/** Weights of single fruit, g, or else the mean of a pick that was only weighed whole. */
function fruitWeights(pick: Pick): readonly number[] {
  if (pick.weights.length > 0) return pick.weights;
  return pick.weight === undefined || pick.fruit === 0 ? [] : [pick.weight / pick.fruit];
}

/** The best fruit of a pick say nothing about what is usual. */
function usualWeights(pick: Pick): readonly number[] {
  return pick.weights.length > 0 && pick.sample === 'best' ? [] : fruitWeights(pick);
}

function unlikely(
  { trial }: Ledger,
  pick: Pick,
  index: number,
  norm: WeightNorm,
  isOwn: boolean,
): Diagnostic {
  const weight = fruitWeights(pick)[index] ?? 0;
  const isMean = pick.weights.length === 0;
  const text = (grams: number) => quantityText(grams, 'weight', trial.units);
  const { light, heavy } = norm.limits(LIKELY);
  const tenth = [weight / 10, weight * 10].find((one) => one >= light && one <= heavy);
  const meant = tenth === undefined ? undefined : tenth * (isMean ? pick.fruit : 1);
  const at = isMean ? spotIn(pick.at, 'weight') : spotIn(pick.at, 'weights', index);
  return diagnose(fruitWeightUnlikelyWords, at, {
    weight: text(weight),
    isMean,
    cultivar: isOwn ? pick.tree.cultivar.name : undefined,
    crop: trial.cropNames[pick.crop],
    usual: text(norm.usual),
    weighed: norm.weighed,
    meant: meant === undefined ? undefined : text(meant),
  });
}

const weightCommaWords = wording<{ written: string; first: string; second: string }>({
  rule: 'weight-comma',
  severity: 'warning',
  why: 'In a list a comma parts two weights, so that 39,5 is read as a fruit of 39 and one of 5. It is questioned where the other commas of the list have a blank behind them, or where fruit of one pick would differ fourfold (common practice, no source).',
  message: ({ written, first, second }) =>
    `${written} in a list is two weights, ${first} and ${second}`,
  advice: ({ first, second }) =>
    `write ${first}.${second} if that is meant, or ${first}, ${second} if they are two`,
});

export const weightComma: Rule = { words: [weightCommaWords], check: findWeightComma };

/** What is read does not tell how it was written, so the text of the file is looked at. */
function* findWeightComma({ seasons }: Ledger): Generator<Diagnostic> {
  for (const { at } of seasons) {
    const { text } = at.file;
    for (const list of text.matchAll(/\bweights:[ \t]*\[([^[\]#]*)\]/g)) {
      const line = text.slice(text.lastIndexOf('\n', list.index) + 1, list.index);
      if (line.includes('#')) continue;
      const inside = list[1] ?? '';
      const from = list.index + list[0].length - 1 - inside.length;
      const isSpaced = /,\s/.test(inside);
      for (const pair of inside.matchAll(/(?<![\d.])(\d+),(\d+)(?![\d.])/g)) {
        const [written, first = '', second = ''] = pair;
        const [one, other] = [Number(first), Number(second)];
        const isUnlike = Math.min(one, other) * 4 <= Math.max(one, other);
        if (!isSpaced && !isUnlike) continue;
        const start = from + pair.index;
        const span = { file: at.file, start, end: start + written.length };
        yield diagnose(weightCommaWords, span, { written, first, second });
      }
    }
  }
}
