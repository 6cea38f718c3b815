/** What one environment says of the items that were seen there, however it came to that. */
export interface EnvironmentFindings {
  /** Which items, 0 to items - 1, each once. */
  readonly items: readonly number[];
  /** What each was found to be worth there, without any shrinkage of one item towards the others. */
  readonly mean: Float64Array;
  /** Covariance of the errors of `mean`, row by row. */
  readonly covariance: Float64Array;
}

/** Several environments that share items. */
export interface PooledTrials {
  readonly items: number;
  readonly environments: readonly EnvironmentFindings[];
  /** Size of spread between items to be reckoned with before anything was seen, in the unit of the values. */
  readonly scale: number;
}

/** All that is taken as known before looking; MODEL.md beside the pooled judgement says why. */
export interface PoolPrior {
  /** Dirichlet parameters of the shares of the variance within environments, of items and of what they are to one. */
  readonly shares: { readonly item: number; readonly interaction: number };
  /**
   * Standard deviation of the log of the factor by which an environment spreads its items, and of that by which all
   * together may do so too little or too much, which no environment can tell.
   */
  readonly widths: number;
  /** Log of the factor by which error variances, themselves found from few values, are off: normal. */
  readonly errors: { readonly mean: number; readonly sd: number };
  /** Log of the mean error variance within environments over that of items there: normal. */
  readonly ratio: { readonly mean: number; readonly sd: number };
}

export const POOL_PRIOR: PoolPrior = {
  shares: { item: 4, interaction: 3 },
  widths: 0.15,
  errors: { mean: -0.15, sd: 0.2 },
  ratio: { mean: -0.7, sd: 0.5 },
};
