/**
 * What counts as one observation. `plate`: tasters of one plate share its luck, so the plate is the unit. `score`: each
 * score for itself, as in the textbook's additive model.
 */
export const SCORE_UNITS = ['plate', 'score'] as const;
export type ScoreUnit = (typeof SCORE_UNITS)[number];
