import { type DrawnPart, drawParts } from '../../src/judge/draw-parts.ts';
import type { JudgedTrial } from '../../src/judge/judged-trial.ts';
import { DRAWS } from '../../src/judge/simulation.ts';
import { indexDraws } from '../../src/stats/mixed/index-draws.ts';
import { INDEX_BANDS, INDEX_WEIGHTS } from './index-rule.ts';
import type { SimulatedTreeSeason, SimulatedTrial } from './simulated-trial.ts';

/** Draws of the index of each cultivar by the program's own model, which is what is calibrated. */
export function drawnIndex(trial: SimulatedTrial, seed: number): (Float64Array | undefined)[] {
  return indexDraws(drawnParts(trial, seed));
}

/** Its parts: taste (flavour and sweetness together), productivity, size, soundness. */
export function drawnParts(trial: SimulatedTrial, seed: number): readonly DrawnPart[] {
  return drawParts(judgedTrial(trial), { draws: DRAWS, seed });
}

function judgedTrial({ cultivars, scores, treeSeasons }: SimulatedTrial): JudgedTrial {
  const { flavour, sweetness } = INDEX_WEIGHTS;
  return {
    items: cultivars,
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
      scores: [row.flavour, row.sweetness],
    })),
    harvested: treeSeasons.map((row) => ({ ...row, item: row.cultivar, ...harvest(row) })),
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
