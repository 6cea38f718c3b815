import { jointDraws } from '../../stats/joint/joint-draws.ts';
import { sum } from '../../stats/numbers/sum.ts';
import type { JudgedTrial } from '../judged-trial.ts';
import type { ItemDraws, Length } from './draw-index.ts';
import { type LaidPart, layOutContrasts } from './lay-out.ts';
import { StandingRecorder } from './standing-recorder.ts';

/** Draws of how the tasted traits differ: trait by trait, less the weighted mean of those after it, by item. */
export interface Contrasts {
  readonly weights: readonly number[];
  /** For each trait but the last. */
  readonly differences: readonly ItemDraws[];
}

/**
 * Draws how the tasted traits differ from one another. On a sheet they differ by less than sheets do, so it is modelled
 * by itself, beside the part of taste.
 */
export function drawContrasts(trial: JudgedTrial, seed: number, length: Length): Contrasts {
  const weights = trial.traits.map(({ weight }) => weight);
  const laid = layOutContrasts(trial);
  if (laid === undefined) return { weights, differences: [] };
  const parts = laid.trial.parts.map(
    (model): LaidPart => ({ part: 'taste', weight: 1, measured: undefined, model }),
  );
  const draws = 2 * length.rounds * length.pairs;
  const views = [Array.from({ length: trial.sites }, (_, site) => site)];
  const recorder = new StandingRecorder({ ...laid, parts }, views, draws);
  jointDraws(laid.trial, { seed, ...length }, (draw, at) => recorder.keep(draw, at));
  return {
    weights,
    differences: (recorder.lasting[0] ?? []).map((byItem) =>
      Array.from({ length: trial.items }, (_, item) => byItem[laid.items.indexOf(item)]),
    ),
  };
}

/**
 * Draws of each tasted trait, whose weighted mean is that of taste in every draw.
 *
 * @param taste draws of the part of taste, by item
 * @returns by trait and item; absent for an item without taste, or where no sheet has two traits
 */
export function traitDraws(
  { weights, differences }: Contrasts,
  taste: ItemDraws,
): readonly ItemDraws[] {
  const byItem = taste.map((own, item) =>
    own === undefined
      ? undefined
      : traitsOf(
          own,
          differences.map((one) => one[item]),
          weights,
        ),
  );
  return weights.map((_, at) => byItem.map((own) => own?.[at]));
}

/** Traits from their weighted mean and, for all but the last, the difference to the weighted mean of those after it. */
function traitsOf(
  taste: Float64Array,
  differences: readonly (Float64Array | undefined)[],
  weights: readonly number[],
): readonly (Float64Array | undefined)[] {
  let rest: Float64Array | undefined = taste;
  return weights.map((weight, at) => {
    if (at === weights.length - 1) return rest;
    const difference = differences[at];
    const whole: Float64Array | undefined = rest;
    if (whole === undefined || difference === undefined) {
      rest = undefined;
      return undefined;
    }
    const later = sum(weights.slice(at + 1));
    const total = weight + later;
    rest = whole.map((mean, d) => mean - (weight / total) * (difference[d] as number));
    return whole.map((mean, d) => mean + (later / total) * (difference[d] as number));
  });
}
