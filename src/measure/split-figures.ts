import { newcombeDifference } from '../stats/intervals/proportion-intervals.ts';
import type { CropRecord } from './crop-record.ts';
import { total } from './total.ts';
import type { WasWetted } from './wet-days.ts';

/** Fruit of some picks, and how many of them had split. */
export interface SplitShare {
  readonly fruit: number;
  readonly split: number;
  readonly share: number | undefined;
}

/** Splits of fruit picked soon after rain or watering, against the rest. */
export interface SplitFigures {
  readonly after: SplitShare;
  readonly rest: SplitShare;
  /** Share after less share of the rest. */
  readonly difference: number | undefined;
  readonly low: number | undefined;
  readonly high: number | undefined;
  /** Fruit left out: whether it was wet before the pick is not known. */
  readonly unknown: number;
}

/**
 * Split share of fruit picked soon after wetting against the rest, with the interval of the
 * difference by Newcombe (1998, Statistics in Medicine 17:873-890, method 10).
 *
 * @param confidence a fraction, such as 0.95
 */
export function splitFigures(
  records: readonly CropRecord[],
  wasWetted: WasWetted,
  confidence: number,
): SplitFigures {
  const picks = records
    .flatMap((record) => record.picks)
    .map((pick) => ({ pick, wetted: wasWetted(pick.tree, pick.on) }));
  const of = (wetted: boolean | undefined) =>
    picks.filter((one) => one.wetted === wetted).map(({ pick }) => pick);
  const after = splitShare(of(true));
  const rest = splitShare(of(false));
  const apart = newcombeDifference(after.split, after.fruit, rest.split, rest.fruit, confidence);
  return {
    after,
    rest,
    difference: apart?.difference,
    low: apart?.low,
    high: apart?.high,
    unknown: total(of(undefined), (pick) => pick.fruit),
  };
}

function splitShare(picks: CropRecord['picks']): SplitShare {
  const fruit = total(picks, (pick) => pick.fruit);
  const split = total(picks, (pick) => pick.defects.split);
  return { fruit, split, share: fruit > 0 ? split / fruit : undefined };
}
