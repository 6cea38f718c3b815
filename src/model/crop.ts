/** The two crops of a year: early (for figs the breba, on last year's wood) and main. */
export type Crop = 'early' | 'main';
export const CROPS: readonly Crop[] = ['early', 'main'];
