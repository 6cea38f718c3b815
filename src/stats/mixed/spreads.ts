/** Standard deviations of the mixed model, in the unit of its values. */
export type Spreads = {
  /** Between items. */
  readonly item: number;
  /** Between seasons within an item, beyond what the season did to all. */
  readonly season: number;
  /** Between trees of an item. */
  readonly tree: number;
  /** Between plates of a tree in a season. */
  readonly plate: number;
  /** Between observations of one plate. */
  readonly residual: number;
};

/** Dirichlet parameters of the shares of the variance between plate means; a share of 0 is left out of the model. */
export type SharePrior = Readonly<Record<'item' | 'season' | 'tree' | 'plate', number>>;

/**
 * The prior shares used unless told otherwise.
 *
 * They expect item-by-season at 0.44 of the variance between items, trees at 0.31, plates at 0.38, and weigh as much as
 * a trial of about ten items. Repeated trials of fruit cultivars put item-by-season at a tenth to about one half of the
 * variance between cultivars, tree-by-season at as much or less, and trees of one orchard far lower: Yamada et al.
 * 1993, HortScience 28:838 (persimmon); Sato et al. 2000, Scientia Horticulturae 85:75-83 (grape); 2011, HortScience
 * 46:1540 (pear). The prior stays at the upper end on purpose: trees in pots, under glass and in the open stand less
 * alike than orchard rows, and a plate adds how one evening's fruit were picked.
 */
export const SHARE_PRIOR: SharePrior = { item: 4.5, season: 2, tree: 1.4, plate: 1.7 };

/**
 * Log prior density of the spreads, taken per unit of their logarithms.
 *
 * The total standard deviation between plates is half-t with 3 degrees of freedom and the given scale (Gelman
 * 2006, Bayesian Analysis 1:515-534), as is the residual one; the total variance is split by a Dirichlet
 * distribution (in the spirit of Fuglstad, Hem, Knight, Rue and Riebler 2020, Bayesian Analysis 15:1109-1137).
 */
export function logSpreadPrior(
  spreads: Spreads,
  prior: SharePrior,
  scale: number,
  withResidual: boolean,
): number {
  const total = spreads.item ** 2 + spreads.season ** 2 + spreads.tree ** 2 + spreads.plate ** 2;
  const shares =
    logShare(prior.item, spreads.item, total) +
    logShare(prior.season, spreads.season, total) +
    logShare(prior.tree, spreads.tree, total) +
    logShare(prior.plate, spreads.plate, total);
  const residual = withResidual ? logHalfT3(spreads.residual / scale) : 0;
  return shares + logHalfT3(Math.sqrt(total) / scale) + residual;
}

function logShare(weight: number, spread: number, total: number): number {
  return weight === 0 ? 0 : weight * Math.log((spread * spread) / total);
}

/** Half-t density with 3 degrees of freedom, per unit of log x, up to a constant. */
function logHalfT3(x: number): number {
  return Math.log(x) - 2 * Math.log1p((x * x) / 3);
}
