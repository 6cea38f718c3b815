import { quantile } from '../../stats/describe/quantile.ts';
import { JOINT_PRIOR } from '../../stats/joint/joint-prior.ts';
import { LEVELS, type Level } from '../../stats/joint/joint-trial.ts';
import { expectedShares } from '../../stats/joint/spread-prior.ts';
import { meanOfDraws } from '../../stats/mixed/mean-of-draws.ts';
import type { Told } from './told-recorder.ts';

/** A figure before anything was seen, and after: its middle and where it lies with nine chances in ten. */
export interface Moved {
  readonly before: Likely;
  readonly after: Likely;
}

export interface Likely {
  readonly middle: number;
  readonly low: number;
  readonly high: number;
}

/** A source's share of the variance. */
export interface ShareMoved {
  readonly of: Level | 'plate';
  readonly before: number;
  readonly after: number;
}

/** What was taken as known of a ranking's spreads, and how far the data moved it. */
export interface ToldSummary {
  /** How many draws the figures of the ranking rest on. */
  readonly draws: number;
  readonly parts: readonly {
    readonly part: string;
    /** Spread between plates (trees in a season), all sources together, on the scale of the model; its half-t scale. */
    readonly total: number;
    readonly scale: number;
    /** Shares of its variance. */
    readonly shares: readonly ShareMoved[];
  }[];
  /** What the sources have of the variance in all parts alike. */
  readonly shares: readonly ShareMoved[];
  /** Correlation that pairs of parts have in the middle; absent with one part. */
  readonly centre: Moved | undefined;
  /** Correlations of two parts between cultivars. */
  readonly together: readonly {
    readonly pair: readonly [string, string];
    readonly after: Likely;
  }[];
  /** Years in which a young tree makes up for 63 % of what it lacks; absent where no tree is known to be young. */
  readonly pace: Moved | undefined;
  /** What taste lacks on a tree of age 0; absent where none was tasted young. */
  readonly earned: Moved | undefined;
}

const NINE_IN_TEN = [0.05, 0.95] as const;
/** Standard normal quantile of the upper end. */
const REACH = 1.645;

export function toldSummary(told: Told, names: readonly string[], draws: number): ToldSummary {
  const { shares, together, pace, earned } = JOINT_PRIOR;
  const before = expectedShares(shares.centre, told.hasSites);
  const sharesBy = (after: (of: Level | 'plate', at: number) => number) =>
    [...LEVELS, 'plate' as const].flatMap((of, at) =>
      of === 'site' && !told.hasSites
        ? []
        : [{ of, before: before[at] ?? 0, after: after(of, at) }],
    );
  const taste = names.indexOf('taste');
  return {
    draws,
    parts: names.map((part, k) => ({
      part,
      ...totalOf(told, k),
      scale: told.scales[k] ?? 0,
      shares: sharesBy((of) => shareOf(told, k, of)),
    })),
    shares: sharesBy((_, at) => meanOfDraws(told.shares[at] ?? new Float64Array(0))),
    centre: told.centre && {
      before: normal(together.centre.mean, together.centre.sd, Math.tanh),
      after: likely(told.centre),
    },
    together: told.together.map((values, at) => ({
      pair: pairAt(names, at),
      after: likely(values),
    })),
    pace: told.pace && { before: normal(pace.mean, pace.sd, Math.exp), after: likely(told.pace) },
    earned: told.earned && {
      before: normal(earned.mean, earned.sd, (value) => value * (told.scales[taste] ?? 0)),
      after: likely(told.earned),
    },
  };
}

function totalOf(told: Told, k: number): { readonly total: number } {
  return { total: meanOfDraws(variances(told, k).map(Math.sqrt)) };
}

function shareOf(told: Told, k: number, of: Level | 'plate'): number {
  const own = told.spreads[k]?.[of] ?? new Float64Array(0);
  return meanOfDraws(variances(told, k).map((total, d) => (own[d] as number) ** 2 / total));
}

/** Variance between plates of a part, draw by draw. */
function variances({ spreads }: Told, k: number): Float64Array {
  const own = spreads[k];
  if (own === undefined) return new Float64Array(0);
  return own.item.map((item, d) => {
    const rest = [own.season, own.site, own.tree, own.plate].map((of) => (of[d] as number) ** 2);
    return rest.reduce((sum, one) => sum + one, item * item);
  });
}

function pairAt<Name>(names: readonly Name[], at: number): readonly [Name, Name] {
  const pairs = names.flatMap((b, k) => names.slice(0, k).map((a) => [a, b] as const));
  return pairs[at] as readonly [Name, Name];
}

/** The middle of some draws, and where nine in ten of them lie. */
export function likely(draws: Float64Array): Likely {
  const [low, high] = NINE_IN_TEN.map((p) => quantile([...draws], p) ?? 0);
  return { middle: quantile([...draws], 0.5) ?? 0, low: low ?? 0, high: high ?? 0 };
}

function normal(mean: number, sd: number, scale: (value: number) => number): Likely {
  return { middle: scale(mean), low: scale(mean - REACH * sd), high: scale(mean + REACH * sd) };
}
