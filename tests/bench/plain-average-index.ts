import { INDEX_BANDS, onBand, weighted } from './index-rule.ts';
import type { SimulatedTrial } from './simulated-trial.ts';

/** The index from averages of all that was written down, as one would do by hand; absent where a part is. */
export function plainAverageIndex(trial: SimulatedTrial): (number | undefined)[] {
  return Array.from({ length: trial.cultivars }, (_, cultivar) => {
    const scores = trial.scores.filter((score) => score.cultivar === cultivar);
    const trees = trial.treeSeasons.filter((row) => row.cultivar === cultivar);
    const weights = trees.flatMap((row) => row.weights);
    const flavour = meanOf(scores.map((score) => score.flavour));
    const sweetness = meanOf(scores.map((score) => score.sweetness));
    const rate = ratio(trees.map((row) => [row.fruit, row.branches]));
    const size = meanOf(weights);
    const sound = ratio(trees.map((row) => [row.sound, row.picked]));
    if (flavour === undefined || sweetness === undefined) return undefined;
    if (rate === undefined || size === undefined || sound === undefined) return undefined;
    return weighted({
      flavour,
      sweetness,
      productivity: onBand(INDEX_BANDS.productivity, rate),
      size: onBand(INDEX_BANDS.size, size),
      soundness: onBand(INDEX_BANDS.soundness, sound),
    });
  });
}

function meanOf(values: readonly (number | undefined)[]): number | undefined {
  const known = values.filter((value) => value !== undefined);
  if (known.length === 0) return undefined;
  return known.reduce((sum, value) => sum + value, 0) / known.length;
}

function ratio(pairs: readonly (readonly [number, number])[]): number | undefined {
  const below = pairs.reduce((sum, [, of]) => sum + of, 0);
  return below > 0 ? pairs.reduce((sum, [count]) => sum + count, 0) / below : undefined;
}
