import { type Diagnostic, diagnose } from '../diagnostics/diagnostic.ts';
import { fruitWeightUnlikelyWords } from '../diagnostics/words/rules-harvest.ts';
import type { Pick } from '../model/entries.ts';
import type { Ledger } from '../model/ledger.ts';
import { type Spot, spotIn } from '../source/source-file.ts';
import { grouped } from './parts/grouped.ts';
import { quantityText } from './parts/quantity-text.ts';
import { type WeightNorm, weightNorm } from './parts/weight-norm.ts';
import type { Rule } from './rule.ts';

export const fruitWeightUnlikely: Rule = { words: [fruitWeightUnlikelyWords], check };

/** Beyond this modified z-score a weight is questioned; within the other it would be believed. */
const UNLIKELY = 4.5;
const LIKELY = 3.5;

interface FruitWeight {
  readonly pick: Pick;
  readonly at: Spot;
  /** g: of one fruit, or the mean of a pick that was weighed whole. */
  readonly weight: number;
  readonly isMean: boolean;
}

function* check(ledger: Ledger): Generator<Diagnostic> {
  const weights = ledger.seasons.flatMap(({ picks }) => picks.flatMap(fruitWeights));
  const byCultivarCrop = grouped(weights, ({ pick }) => `${pick.crop} ${pick.tree.cultivar.key}`);
  for (const group of byCultivarCrop.values()) {
    // The best fruit of a pick say nothing about what is usual.
    const usual = group.filter(({ pick, isMean }) => isMean || pick.sample !== 'best');
    const norm = weightNorm(usual.map(({ weight }) => weight));
    if (norm === undefined) continue;
    for (const one of group) {
      if (Math.abs(norm.score(one.weight)) > UNLIKELY) yield unlikely(ledger, one, norm);
    }
  }
}

function fruitWeights(pick: Pick): readonly FruitWeight[] {
  if (pick.weights.length > 0) {
    return pick.weights
      .map((weight, index) => ({
        pick,
        at: spotIn(pick.at, 'weights', index),
        weight,
        isMean: false,
      }))
      .filter(({ weight }) => weight > 0);
  }
  if (pick.weight === undefined || pick.weight <= 0 || pick.fruit <= 0) return [];
  const at = spotIn(pick.at, 'weight');
  return [{ pick, at, weight: pick.weight / pick.fruit, isMean: true }];
}

function unlikely({ trial }: Ledger, one: FruitWeight, norm: WeightNorm): Diagnostic {
  const { pick, weight, isMean, at } = one;
  const text = (grams: number) => quantityText(grams, 'weight', trial.units);
  const likely = [weight / 10, weight * 10].find(
    (tenfold) => Math.abs(norm.score(tenfold)) <= LIKELY,
  );
  const meant = likely === undefined ? undefined : likely * (isMean ? pick.fruit : 1);
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
