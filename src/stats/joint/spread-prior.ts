import type { SharePrior } from './joint-prior.ts';
import { ITEM, LEVELS, SEASON, SITE, TREE } from './joint-trial.ts';

/**
 * Log prior density of the spreads of one part, taken per unit of their logarithms, up to a constant.
 *
 * The total variance between plates, in squared scales, is F with some and 3 degrees of freedom (Mulder and Pericchi
 * 2018, Bayesian Analysis 13:1193-1214): the tail of a half-t spread, and with 3 as unlikely near 0, where cultivars
 * that hardly bore would be told to be all alike (Chung, Rabe-Hesketh, Dorie, Gelman and Liu 2013, Psychometrika
 * 78:685-709). It is split by a Dirichlet distribution (in the spirit of Fuglstad, Hem, Knight, Rue and Riebler 2020,
 * Bayesian Analysis 15:1109-1137).
 *
 * @param spreads standard deviations by level, in the order of `LEVELS`, from an index on
 * @param shares Dirichlet parameters, as of `shareParameters`
 * @param keptOff degrees of freedom that keep the total off 0
 */
export function logSpreadPrior(
  spreads: Float64Array,
  from: number,
  plate: number,
  scale: number,
  shares: Float64Array,
  keptOff: number,
): number {
  const item = spreads[from + ITEM] as number;
  const season = spreads[from + SEASON] as number;
  const tree = spreads[from + TREE] as number;
  let total = item * item + season * season + tree * tree + plate * plate;
  let [weight, split] = [0, 0];
  const ofSites = shares[SITE] as number;
  if (ofSites > 0) {
    const site = spreads[from + SITE] as number;
    total += site * site;
    weight = ofSites;
    split = ofSites * Math.log(site);
  }
  const [ofItems, ofSeasons] = [shares[ITEM] as number, shares[SEASON] as number];
  const [ofTrees, ofPlates] = [shares[TREE] as number, shares[LEVELS.length] as number];
  weight += ofItems + ofSeasons + ofTrees + ofPlates;
  split +=
    ofItems * Math.log(item) +
    ofSeasons * Math.log(season) +
    ofTrees * Math.log(tree) +
    ofPlates * Math.log(plate);
  return 2 * split - weight * Math.log(total) + logRootF(Math.sqrt(total) / scale, keptOff);
}

/** Half-t density with 3 degrees of freedom (Gelman 2006, Bayesian Analysis 1:515-534), per unit of log x, up to a constant. */
export function logHalfT3(x: number): number {
  return logRootF(x, 1);
}

/** Density of the root of an F variate with some and 3 degrees of freedom, per unit of log x, up to a constant. */
function logRootF(x: number, freedom: number): number {
  return freedom * Math.log(x) - ((freedom + 3) / 2) * Math.log1p((freedom * x * x) / 3);
}

/** Dirichlet parameters of the levels, in the order of `LEVELS`, and, last, of the plates; 0 for sites that are not there. */
export function shareParameters(shares: SharePrior, hasSites: boolean): Float64Array {
  return Float64Array.from([...LEVELS, 'plate' as const], (of) =>
    of === 'site' && !hasSites ? 0 : shares[of],
  );
}

/** Prior means of the shares, in the order of `shareParameters`. */
export function expectedShares(shares: SharePrior, hasSites: boolean): Float64Array {
  const own = shareParameters(shares, hasSites);
  const total = own.reduce((sum, share) => sum + share, 0);
  return own.map((share) => share / total);
}
