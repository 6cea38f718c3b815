import { type Diagnostic, diagnose } from '../diagnostics/diagnostic.ts';
import { fruitWeightUnlikelyWords } from '../diagnostics/words/rules-harvest.ts';
import type { Pick } from '../model/entries.ts';
import type { Ledger } from '../model/ledger.ts';
import { spotIn } from '../source/source-file.ts';
import { grouped } from './parts/grouped.ts';
import { quantityText } from './parts/quantity-text.ts';
import { type WeightNorm, weightNorm } from './parts/weight-norm.ts';
import type { Rule } from './rule.ts';

export const fruitWeightUnlikely: Rule = { words: [fruitWeightUnlikelyWords], check };

/** Beyond this modified z-score a weight is questioned; within the other it would be believed. */
const UNLIKELY = 4.5;
const LIKELY = 3.5;

function* check(ledger: Ledger): Generator<Diagnostic> {
  const picks = ledger.seasons.flatMap((season) => season.picks);
  const byCultivarCrop = grouped(picks, ({ crop, tree }) => `${crop} ${tree.cultivar.key}`);
  for (const group of byCultivarCrop.values()) {
    const norm = weightNorm(group.flatMap(usualWeights));
    if (norm === undefined) continue;
    const { light, heavy } = norm.limits(UNLIKELY);
    const isUsual = (weight: number) => weight >= light && weight <= heavy;
    for (const pick of group) {
      const weights = fruitWeights(pick);
      if (weights.every(isUsual)) continue;
      for (const [index, weight] of weights.entries()) {
        if (!isUsual(weight)) yield unlikely(ledger, pick, index, norm);
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

function unlikely({ trial }: Ledger, pick: Pick, index: number, norm: WeightNorm): Diagnostic {
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
    cultivar: pick.tree.cultivar.name,
    crop: trial.cropNames[pick.crop],
    usual: text(norm.usual),
    weighed: norm.weighed,
    meant: meant === undefined ? undefined : text(meant),
  });
}
