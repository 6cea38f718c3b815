/** What the simulated figures rest on, all in one place: prose that tells these numbers takes them from here. */

/** Of the simulation where no other seed is asked for. */
export const RANK_SEED = 1;

/**
 * Draws of the index. On the example ledger its mean then moves by 0.01 with the seed, the ends of its interval by
 * 0.02, a chance by less than 1 in 100: all less than the last digit that people read.
 */
export const DRAWS = 8000;

/** Of what only the mean is shown of. */
export const MEAN_DRAWS = 500;

/** Two cultivars are told apart where one is above the other in so many of the draws. */
export const APART = 0.975;

/**
 * A figure that lies within so many errors of simulation of a mark could, with another seed, lie beyond it: what hangs
 * on the mark is then said to be on the edge.
 */
export const EDGE = 3;
