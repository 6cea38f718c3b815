import { compositeScores } from '../../src/stats/composite-scores.ts';
import { type IndexPart, indexDraws } from '../../src/stats/index-draws.ts';
import {
  logScale,
  type MeasuredScale,
  rateFigure,
  rootScale,
  shareFigure,
  shareScale,
  sizeFigure,
} from '../../src/stats/measured-scale.ts';
import { mixedDraws } from '../../src/stats/mixed-draws.ts';
import { type MeasuredFigure, partDraws } from '../../src/stats/part-draws.ts';
import { straightLineBand } from '../../src/stats/straight-line-band.ts';
import { INDEX_BANDS, INDEX_WEIGHTS } from './index-rule.ts';
import type { SimulatedTreeSeason, SimulatedTrial } from './simulated-trial.ts';

const DRAWS = 2000;

/** Draws of the index of each cultivar as the program has them. */
export function drawnIndex(trial: SimulatedTrial, seed: number): (Float64Array | undefined)[] {
  return indexDraws(drawnParts(trial, seed));
}

/** Its parts: taste (flavour and sweetness together), productivity, size, soundness. */
export function drawnParts(trial: SimulatedTrial, seed: number): IndexPart[] {
  const { flavour, sweetness, productivity, size, soundness } = INDEX_WEIGHTS;
  return [
    { weight: flavour + sweetness, items: tastedDraws(trial, seed) },
    { weight: productivity, items: productivityDraws(trial, seed + 1) },
    { weight: size, items: sizeDraws(trial, seed + 2) },
    { weight: soundness, items: soundnessDraws(trial, seed + 3) },
  ];
}

function tastedDraws(trial: SimulatedTrial, seed: number) {
  const composite = compositeScores(
    [trial.scores.map((row) => row.flavour), trial.scores.map((row) => row.sweetness)],
    [INDEX_WEIGHTS.flavour, INDEX_WEIGHTS.sweetness],
    trial.scores.map((row) => row.cultivar),
  );
  const rows = trial.scores.flatMap((row, at) => {
    const y = composite[at];
    return y === undefined ? [] : [{ ...row, y }];
  });
  const model = mixedDraws(
    {
      y: rows.map((row) => row.y),
      item: rows.map((row) => row.cultivar),
      season: rows.map((row) => row.season),
      tree: rows.map((row) => row.tree),
      plate: rows.map((row) => row.plate),
      block: rows.map((row) => row.sitting),
      factors: [rows.map((row) => row.taster), rows.map((row) => row.site)],
    },
    // A sixth of the scale from 1 to 10; flavour and sweetness at weights of 0.6 and 0.4, each a whole number.
    { draws: DRAWS, seed, scale: 9 / 6, resolution: Math.hypot(0.6, 0.4) },
  );
  return model.items;
}

function productivityDraws(trial: SimulatedTrial, seed: number) {
  const figure = (row: SimulatedTreeSeason) => rateFigure(row.fruit, row.branches);
  return onScale(trial.treeSeasons, figure, rootScale, INDEX_BANDS.productivity, seed);
}

function sizeDraws(trial: SimulatedTrial, seed: number) {
  const weighed = trial.treeSeasons.filter((row) => row.weights.length > 0);
  const logs = weighed.map((row) => row.weights.map(Math.log));
  const pooled = pooledVariance(logs);
  const figure = (row: SimulatedTreeSeason) => {
    const mean = row.weights.reduce((sum, weight) => sum + weight, 0) / row.weights.length;
    // The pooled variance is of logarithms, so relative to the mean.
    return sizeFigure(mean, (pooled * mean * mean) / row.weights.length);
  };
  return onScale(weighed, figure, logScale, INDEX_BANDS.size, seed);
}

function soundnessDraws(trial: SimulatedTrial, seed: number) {
  const picked = trial.treeSeasons.filter((row) => row.picked > 0);
  const figure = (row: SimulatedTreeSeason) => shareFigure(row.sound, row.picked);
  return onScale(picked, figure, shareScale, INDEX_BANDS.soundness, seed);
}

function onScale(
  rows: readonly SimulatedTreeSeason[],
  figure: (row: SimulatedTreeSeason) => { value: number; variance: number },
  scale: MeasuredScale,
  band: readonly (readonly [number, number])[],
  seed: number,
) {
  const figures: MeasuredFigure[] = rows.map((row) => ({
    item: row.cultivar,
    season: row.season,
    tree: row.tree,
    site: row.site,
    ...figure(row),
  }));
  const toScale = straightLineBand(band);
  const { items } = partDraws(figures, scale, { draws: DRAWS, seed });
  return items.map((draws) => draws?.map(toScale));
}

function pooledVariance(groups: readonly (readonly number[])[]): number {
  let [square, freedom] = [0, 0];
  for (const group of groups) {
    const mean = group.reduce((sum, value) => sum + value, 0) / group.length;
    square += group.reduce((sum, value) => sum + (value - mean) ** 2, 0);
    freedom += group.length - 1;
  }
  return freedom > 0 ? square / freedom : 0;
}
