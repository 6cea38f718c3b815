/** A Metropolis sampler over a few unknowns. */
export type Walk = {
  /** The current point; not to be modified. */
  readonly point: Float64Array;
  /**
   * One Metropolis step.
   *
   * @param current log density of the current point (it may have changed since the last step)
   * @param density log density of a proposed point
   * @returns whether the proposal was taken
   */
  step(current: number, density: (point: Float64Array) => number): boolean;
  /** Log density of the point that was last proposed. */
  density(): number;
};
