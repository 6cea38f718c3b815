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
