import { JOINT_PRIOR } from '../../stats/joint/joint-prior.ts';

/** What the simulated figures rest on, all in one place: prose that tells these numbers takes them from here. */

/** Of the simulation where no other seed is asked for. */
export const RANK_SEED = 1;

/** Two cultivars are told apart where one is above the other in so many of the draws. */
export const APART = 0.975;

/**
 * A figure that lies within so many errors of simulation of a mark could, with another seed, lie beyond it: what hangs
 * on the mark is then said to be on the edge.
 */
export const EDGE = 3;

/** Degrees of freedom that keep a part's total variance off 0 beforehand. */
export const PRIOR_FREEDOM = JOINT_PRIOR.keptOff;

/** Of how many cultivars' worth the prior of the sources' shares is. */
export const PRIOR_WORTH = Math.round(
  Object.values(JOINT_PRIOR.shares.centre).reduce((sum, share) => sum + share, 0),
);
