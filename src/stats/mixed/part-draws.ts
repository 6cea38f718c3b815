import type { MeasuredScale } from './measured-scale.ts';
import { type MixedDraws, mixedDraws } from './mixed-draws.ts';
import type { SharePrior } from './spreads.ts';

/** One tree's measured figure for one season, already on the scale that it is analysed on. */
export type MeasuredFigure = {
  /** 0 to items - 1. */
  readonly item: number;
  /** 0 to seasons - 1. */
  readonly season: number;
  /** Numbered over all items. */
  readonly tree: number;
  /** 0 to sites - 1, where there is more than one. */
  readonly site?: number;
  readonly value: number;
  /** Sampling variance of `value`, as far as it is known; 0 if the figure is a full count. */
  readonly variance: number;
};

/** Draws of a measured part, by item, in the unit of the figure (not on the scale of the analysis). */
export type PartDraws = {
  readonly items: readonly (Float64Array | undefined)[];
  readonly model: MixedDraws;
};

/**
 * Draws of each item's long-run mean of a measured figure: over new trees and swings of the item from season to
 * season, for the seasons that were seen (averaged) and all sites alike.
 *
 * One tree borrows the spread between trees from all. The mean of the figure itself is told, which is not the
 * figure of the mean: on the log scale a cultivar that swings more bears more on average.
 */
export function partDraws(
  figures: readonly MeasuredFigure[],
  scale: MeasuredScale,
  options: { readonly draws: number; readonly seed: number; readonly prior?: SharePrior },
): PartDraws {
  const model = mixedDraws(
    {
      y: figures.map((figure) => figure.value),
      item: figures.map((figure) => figure.item),
      season: figures.map((figure) => figure.season),
      tree: figures.map((figure) => figure.tree),
      plate: figures.map((_, at) => at),
      block: figures.map((figure) => figure.season),
      factors: [figures.map((figure) => figure.site ?? 0)],
      variance: figures.map((figure) => figure.variance),
    },
    { ...options, scale: scale.spread, keepsBlocks: true },
  );
  return { model, items: onFigure(model, scale) };
}

/** The draws of all items in the unit of the figure: its mean over the seasons that were seen. */
function onFigure(
  { items, blocks, spreads }: MixedDraws,
  scale: MeasuredScale,
): PartDraws['items'] {
  const { season, tree, plate } = spreads;
  const figures = items.map((draws) => draws?.slice());
  const drawn = figures.filter((draws) => draws !== undefined);
  const offsets = new Float64Array(blocks.length);
  const means = new Float64Array(drawn.length);
  for (let d = 0; d < season.length; d++) {
    for (let b = 0; b < offsets.length; b++) offsets[b] = (blocks[b] as Float64Array)[d] as number;
    const swing = (season[d] as number) ** 2 + (tree[d] as number) ** 2 + (plate[d] as number) ** 2;
    for (let k = 0; k < drawn.length; k++) means[k] = (drawn[k] as Float64Array)[d] as number;
    scale.around(means, offsets, scale.swing(swing));
    for (let k = 0; k < drawn.length; k++) (drawn[k] as Float64Array)[d] = means[k] as number;
  }
  return figures;
}
