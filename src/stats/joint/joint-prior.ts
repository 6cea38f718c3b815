import { LEVELS, type Level } from './joint-trial.ts';

/** Dirichlet parameters of the shares of the variance between plates of a part. */
export type SharePrior = Readonly<Record<Level | 'plate', number>>;

/** All that is taken as known before looking; MODEL.md beside the trial's lay-out says why. */
export interface JointPrior {
  readonly shares: SharePrior;
  /** Correlations of two parts, as normals of Fisher's z = atanh(r), one nested in the other. */
  readonly together: {
    /** Of the centre of all pairs of parts. */
    readonly centre: { readonly mean: number; readonly sd: number };
    /** Of a pair about the centre. */
    readonly pair: number;
    /** Of a level (item, season, site, tree) about its pair. */
    readonly level: number;
  };
  /** Years in which a young tree makes up for 1 - 1/e of what it lacks: a normal of their logarithm. */
  readonly pace: { readonly mean: number; readonly sd: number };
  /** What a tree of age 0 lacks of a value that age takes from: a normal, in scales of its part. */
  readonly earned: { readonly mean: number; readonly sd: number };
  /** Standard deviation of the levels of sites and judges, in scales of a part or spreads of its plates. */
  readonly levels: number;
}

/**
 * The prior used unless told otherwise.
 *
 * The shares expect item-by-season at 0.29 of the variance between items, item-by-site at 0.17, trees at 0.29, plates
 * at 0.24, and weigh as much as a trial of about fourteen items. Repeated trials of fruit cultivars put item-by-season
 * at a tenth to about one half of the variance between cultivars, tree-by-season at as much or less, and trees of one
 * orchard far lower: Yamada et al. 1993, HortScience 28:838 (persimmon); Sato et al. 2000, Scientia Horticulturae
 * 85:75-83 (grape); 2011, HortScience 46:1540 (pear). So season stands in the middle of what is published and trees
 * well above it, since trees in pots, under glass and in the open stand less alike than orchard rows: with 1.4 in
 * place of 2, gardens whose trees are very unlike were told too surely. A plate adds how one evening's fruit were
 * picked.
 */
export const JOINT_PRIOR: JointPrior = {
  shares: { item: 7, season: 2, site: 1.2, tree: 2, plate: 1.7 },
  together: { centre: { mean: 0.2, sd: 0.3 }, pair: 0.5, level: 0.2 },
  pace: { mean: Math.log(1.5), sd: 0.6 },
  earned: { mean: 0.27, sd: 0.27 },
  levels: 10,
};

/**
 * Log prior density of the spreads of one part, taken per unit of their logarithms.
 *
 * The total variance between plates, in squared scales, is F with `KEPT_OFF` and 3 degrees of freedom (Mulder and
 * Pericchi 2018, Bayesian Analysis 13:1193-1214): the tail of a half-t spread, and as unlikely near 0, where cultivars
 * that hardly bore would be told to be all alike (Chung, Rabe-Hesketh, Dorie, Gelman and Liu 2013, Psychometrika
 * 78:685-709). It is split by a Dirichlet distribution (in the spirit of Fuglstad, Hem, Knight, Rue and Riebler 2020,
 * Bayesian Analysis 15:1109-1137).
 *
 * @param spreads standard deviations by level, in the order of `LEVELS`, from an index on
 * @param hasSites whether the level of sites is there at all
 */
export function logSpreadPrior(
  spreads: Float64Array,
  from: number,
  plate: number,
  scale: number,
  shares: SharePrior,
  hasSites: boolean,
): number {
  const item = spreads[from] as number;
  const season = spreads[from + 1] as number;
  const site = hasSites ? (spreads[from + 2] as number) : 0;
  const tree = spreads[from + 3] as number;
  const total = item * item + season * season + site * site + tree * tree + plate * plate;
  const weight =
    shares.item + shares.season + (hasSites ? shares.site : 0) + shares.tree + shares.plate;
  return (
    2 *
      (shares.item * Math.log(item) +
        shares.season * Math.log(season) +
        (hasSites ? shares.site * Math.log(site) : 0) +
        shares.tree * Math.log(tree) +
        shares.plate * Math.log(plate)) -
    weight * Math.log(total) +
    logRootF(Math.sqrt(total) / scale, KEPT_OFF)
  );
}

/** Degrees of freedom that keep a total variance off 0; 1 would be a half-t spread, which does not. */
export const KEPT_OFF = 3;

/** Half-t density with 3 degrees of freedom (Gelman 2006, Bayesian Analysis 1:515-534), per unit of log x, up to a constant. */
export function logHalfT3(x: number): number {
  return logRootF(x, 1);
}

/** Density of the root of an F variate with some and 3 degrees of freedom, per unit of log x, up to a constant. */
function logRootF(x: number, freedom: number): number {
  return freedom * Math.log(x) - ((freedom + 3) / 2) * Math.log1p((freedom * x * x) / 3);
}

/** Prior means of the shares of the levels and, last, the plates. */
export function expectedShares(shares: SharePrior, hasSites: boolean): number[] {
  const own = [...LEVELS, 'plate' as const].map((of) =>
    of === 'site' && !hasSites ? 0 : shares[of],
  );
  const total = own.reduce((sum, share) => sum + share, 0);
  return own.map((share) => share / total);
}
