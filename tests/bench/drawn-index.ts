import { drawIndex, type ItemDraws } from '../../src/judge/index/draw-index.ts';
import type { JudgedTrial } from '../../src/judge/index/judged-trial.ts';
import { INDEX_BANDS, INDEX_WEIGHTS } from './index-rule.ts';
import type { SimulatedTreeSeason, SimulatedTrial } from './simulated-trial.ts';

/** Draws of the index of each cultivar by the program's own model, which is what is calibrated. */
export function drawnIndex(trial: SimulatedTrial, seed: number): ItemDraws {
  return drawIndex(judgedTrial(trial), { seed })?.views[0]?.index ?? [];
}

function judgedTrial({ cultivars, scores, treeSeasons }: SimulatedTrial): JudgedTrial {
  const { flavour, sweetness } = INDEX_WEIGHTS;
  return {
    items: cultivars,
    sites: 1 + Math.max(...treeSeasons.map(({ site }) => site), ...scores.map(({ site }) => site)),
    scale: { low: 1, high: 10 },
    traits: [
      { key: 'flavour', weight: flavour },
      { key: 'sweetness', weight: sweetness },
    ],
    measured: (['productivity', 'size', 'soundness'] as const).map((part) => ({
      part,
      weight: INDEX_WEIGHTS[part],
      band: INDEX_BANDS[part],
    })),
    tasted: scores.map((row) => ({
      ...row,
      item: row.cultivar,
      age: undefined,
      scores: [row.flavour, row.sweetness],
    })),
    harvested: treeSeasons.map((row) => ({
      ...row,
      item: row.cultivar,
      age: undefined,
      ...harvest(row),
    })),
  };
}

function harvest({ fruit, branches, weights, picked, sound }: SimulatedTreeSeason) {
  const weight = weights.reduce((total, one) => total + one, 0);
  return {
    borne: { sum: fruit, of: branches },
    weighed: weights.length > 0 ? { sum: weight, of: weights.length, singles: weights } : undefined,
    sound: picked > 0 ? { sum: sound, of: picked } : undefined,
    ripened: undefined,
  };
}
