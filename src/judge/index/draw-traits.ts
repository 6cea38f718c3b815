import { jointDraws } from '../../stats/joint/joint-draws.ts';
import { meanOfDraws } from '../../stats/mixed/mean-of-draws.ts';
import { sum } from '../../stats/numbers/sum.ts';
import type { JudgedTrial } from '../judged-trial.ts';
import type { Length } from './draw-index.ts';
import { type LaidPart, layOutContrasts } from './lay-out.ts';
import { StandingRecorder } from './standing-recorder.ts';

/** Of what only means are told. */
const LENGTH: Length = { warmUp: 100, rounds: 250, pairs: 1 };

/**
 * The mean of each tasted trait, so that their weighted mean is that of taste.
 *
 * How traits differ on a sheet is drawn by a chain of its own, beside the part of taste: trait by trait, less the
 * weighted mean of those after it. Each trait is then put together from taste and these differences.
 *
 * @param taste mean of the part of taste, by item
 * @returns by trait and item; absent for an item without taste, or where no sheet has two traits
 */
export function traitMeans(
  trial: JudgedTrial,
  taste: readonly (number | undefined)[],
  seed: number,
): readonly (readonly (number | undefined)[])[] {
  const weights = trial.traits.map(({ weight }) => weight);
  const differences = differenceMeans(trial, seed);
  const byItem = taste.map((own, item) =>
    traitsOf(
      own,
      differences.map((one) => one[item]),
      weights,
    ),
  );
  return weights.map((_, at) => byItem.map((own) => own[at]));
}

/** For each trait but the last, its mean less the weighted mean of those after it, by item. */
function differenceMeans(
  trial: JudgedTrial,
  seed: number,
): readonly (readonly (number | undefined)[])[] {
  const laid = layOutContrasts(trial);
  if (laid === undefined) return [];
  const parts = laid.trial.parts.map(
    (model): LaidPart => ({ part: 'taste', weight: 1, measured: undefined, model }),
  );
  const views = [Array.from({ length: trial.sites }, (_, site) => site)];
  const recorder = new StandingRecorder(
    { ...laid, parts },
    views,
    2 * LENGTH.rounds * LENGTH.pairs,
  );
  jointDraws(laid.trial, { seed, ...LENGTH }, (draw, at) => recorder.keep(draw, at));
  return (recorder.lasting[0] ?? []).map((byItem) =>
    Array.from({ length: trial.items }, (_, item) => {
      const draws = byItem[laid.items.indexOf(item)];
      return draws && meanOfDraws(draws);
    }),
  );
}

/** Traits from their weighted mean and, for all but the last, the difference to the weighted mean of those after it. */
function traitsOf(
  taste: number | undefined,
  differences: readonly (number | undefined)[],
  weights: readonly number[],
): readonly (number | undefined)[] {
  let rest = taste;
  return weights.map((weight, at) => {
    if (at === weights.length - 1) return rest;
    const [whole, difference] = [rest, differences[at]];
    if (whole === undefined || difference === undefined) {
      rest = undefined;
      return undefined;
    }
    const later = sum(weights.slice(at + 1));
    rest = whole - (weight / (weight + later)) * difference;
    return whole + (later / (weight + later)) * difference;
  });
}
