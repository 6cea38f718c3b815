/** The mean of numbers that are random themselves, such as draws: there is no need to carry rounding along. */
export function meanOfDraws(draws: Float64Array): number {
  let sum = 0;
  for (let d = 0; d < draws.length; d++) sum += draws[d] as number;
  return sum / draws.length;
}
