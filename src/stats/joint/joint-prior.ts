import type { Level } from './joint-trial.ts';

/** Dirichlet parameters of the shares of the variance between plates. */
export type SharePrior = Readonly<Record<Level | 'plate', number>>;

/** All that is taken as known before looking; MODEL.md beside the trial's lay-out says why. */
export interface JointPrior {
  readonly shares: {
    /** Of what the parts of a trial have in common. */
    readonly centre: SharePrior;
    /** How near each part lies to it: the sum of the Dirichlet parameters of a part, whose means are the centre. */
    readonly near: number;
  };
  /** Degrees of freedom that keep the total variance of a part off 0; 1 would be a half-t spread, which does not. */
  readonly keptOff: number;
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
 * at 0.24, and weigh as much as a trial of about fourteen items. Where trees of one cultivar differ much in one part
 * they do so in the others, as soil, stock and pots do not ask what is measured: all parts share a centre, and what one
 * part tells of trees or seasons the others learn. Repeated trials of fruit cultivars put item-by-season
 * at a tenth to about one half of the variance between cultivars, tree-by-season at as much or less, and trees of one
 * orchard far lower: Yamada et al. 1993, HortScience 28:838 (persimmon); Sato et al. 2000, Scientia Horticulturae
 * 85:75-83 (grape); 2011, HortScience 46:1540 (pear). So season stands in the middle of what is published and trees
 * well above it, since trees in pots, under glass and in the open stand less alike than orchard rows: with 1.4 in
 * place of 2, gardens whose trees are very unlike were told too surely. A plate adds how one evening's fruit were
 * picked.
 */
export const JOINT_PRIOR: JointPrior = {
  shares: { centre: { item: 7, season: 2, site: 1.2, tree: 2, plate: 1.7 }, near: 20 },
  keptOff: 3,
  together: { centre: { mean: 0.2, sd: 0.3 }, pair: 0.5, level: 0.2 },
  pace: { mean: Math.log(1.5), sd: 0.6 },
  earned: { mean: 0.27, sd: 0.27 },
  levels: 10,
};
