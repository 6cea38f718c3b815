/** Whose trees tell how far trees differ: those of all cultivars together, or each row its own. */
export const SPREADS = ['shared', 'own'] as const;
export type Spread = (typeof SPREADS)[number];
