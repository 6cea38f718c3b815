import { interactionResiduals } from './interaction-residuals.ts';

export type WrickeEcovalence = {
  /**
   * By treatment: its part of the interaction sum of squares; 0 moves with the environment means
   * exactly.
   */
  readonly ecovalences: readonly number[];
  /** By treatment, as shares that sum to 1; absent if there is no interaction at all. */
  readonly shares: readonly number[] | undefined;
  /** Sum of squares of treatment by environment interaction. */
  readonly interactionSs: number;
};

/**
 * Wricke's ecovalence: W_i = sum over environments of (y_ij - mean_i - mean_j + mean)^2.
 *
 * Source: Wricke 1962, Zeitschrift fuer Pflanzenzuechtung 47:92-96.
 *
 * @param values by treatment and environment, complete
 * @throws RangeError if treatments differ in how many environments they have or a value is not
 *   finite
 */
export function wrickeEcovalence(values: readonly (readonly number[])[]): WrickeEcovalence {
  const ecovalences = interactionResiduals(values).map((row) =>
    row.reduce((sum, residual) => sum + residual ** 2, 0),
  );
  const interactionSs = ecovalences.reduce((sum, part) => sum + part, 0);
  return {
    ecovalences,
    shares: interactionSs > 0 ? ecovalences.map((part) => part / interactionSs) : undefined,
    interactionSs,
  };
}
