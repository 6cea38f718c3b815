import { jointDraws } from '../../stats/joint/joint-draws.ts';
import type { JointTrial } from '../../stats/joint/joint-trial.ts';
import { meanOfDraws } from '../../stats/mixed/mean-of-draws.ts';
import { sum } from '../../stats/numbers/sum.ts';
import { type Length, lengthForMeans } from './chain-length.ts';
import type { ItemDraws } from './draw-index.ts';
import type { JudgedTrial } from './judged-trial.ts';
import { layOutContrasts } from './lay-out.ts';
import { StandingRecorder } from './standing-recorder.ts';

/**
 * Draws of each tasted trait, so that their weighted mean is that of taste.
 *
 * How traits differ on a sheet is drawn by a chain of its own, beside the part of taste: trait by trait, less the
 * weighted mean of those after it. Each trait is then put together from taste and these differences.
 *
 * @param taste draws of the part of taste, by item
 * @param length as taste was drawn, so that there are as many draws
 * @returns by trait and item; absent for an item without taste, or where no sheet has two traits
 */
export function traitDraws(
  trial: JudgedTrial,
  taste: ItemDraws,
  seed: number,
  length: Length,
): readonly ItemDraws[] {
  return traitsFrom(
    trial,
    taste,
    differenceDraws(trial, seed, () => length),
  );
}

/** The mean of each tasted trait by item, from the means of taste: fewer draws do. */
export function traitMeans(
  trial: JudgedTrial,
  taste: readonly (number | undefined)[],
  seed: number,
): readonly (readonly (number | undefined)[])[] {
  const one = (mean: number | undefined) =>
    mean === undefined ? undefined : Float64Array.of(mean);
  const differences = differenceDraws(trial, seed, lengthForMeans).map((byItem) =>
    byItem.map((draws) => draws && Float64Array.of(meanOfDraws(draws))),
  );
  return traitsFrom(trial, taste.map(one), differences).map((byItem) =>
    byItem.map((mean) => mean?.[0]),
  );
}

/** For each trait but the last, its difference to the weighted mean of those after it, by item. */
function differenceDraws(
  trial: JudgedTrial,
  seed: number,
  lengthOf: (trial: JointTrial) => Length,
): readonly ItemDraws[] {
  const laid = layOutContrasts(trial);
  if (laid === undefined) return [];
  const parts = laid.trial.parts.map((model) => ({ measured: undefined, model }));
  const views = [Array.from({ length: trial.sites }, (_, site) => site)];
  const length = lengthOf(laid.trial);
  const draws = 2 * length.rounds * length.pairs;
  const recorder = new StandingRecorder({ trial: laid.trial, parts }, views, draws);
  jointDraws(laid.trial, { seed, ...length }, (draw, at) => recorder.keep(draw, at));
  return (recorder.lasting[0] ?? []).map((byItem) =>
    Array.from({ length: trial.items }, (_, item) => byItem[laid.items.indexOf(item)]),
  );
}

/** Traits from their weighted mean and, for all but the last, the difference to the weighted mean of those after it. */
function traitsFrom(
  { traits }: JudgedTrial,
  taste: ItemDraws,
  differences: readonly ItemDraws[],
): readonly ItemDraws[] {
  let rest = taste;
  return traits.map(({ weight }, at) => {
    if (at === traits.length - 1) return rest;
    const whole = rest;
    const later = sum(traits.slice(at + 1).map((trait) => trait.weight));
    const plus = (share: number): ItemDraws =>
      whole.map((draws, item) => shifted(draws, differences[at]?.[item], share));
    rest = plus(-weight / (weight + later));
    return plus(later / (weight + later));
  });
}

function shifted(
  draws: Float64Array | undefined,
  by: Float64Array | undefined,
  share: number,
): Float64Array | undefined {
  return draws && by && draws.map((value, d) => value + share * (by[d] as number));
}
