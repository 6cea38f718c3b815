/**
 * Serving orders of t samples in which each sample is in each place equally often and follows each
 * other sample equally often: t orders if t is even, 2 t if it is odd.
 *
 * Method: one order steps 0, 1, t - 1, 2, t - 2 ...; the others add 1 to t - 1 to it, modulo t. For
 * odd t they are followed by the same orders read backwards.
 *
 * Source: Williams 1949, Experimental designs balanced for the estimation of residual effects of
 * treatments, Australian Journal of Scientific Research A 2:149-168.
 *
 * @param t how many samples, 1 or more
 * @returns orders of the sample numbers 0 to t - 1
 * @throws RangeError if t is not a whole number of 1 or more
 * @example williamsSquare(4) // => [[0, 1, 3, 2], [1, 2, 0, 3], [2, 3, 1, 0], [3, 0, 2, 1]]
 */
export function williamsSquare(t: number): number[][] {
  if (!Number.isSafeInteger(t) || t < 1)
    throw new RangeError(`${t} samples cannot be put in order`);
  const first = Array.from({ length: t }, (_, place) => {
    const step = Math.ceil(place / 2);
    return place % 2 === 1 ? step : (t - step) % t;
  });
  const square = first.map((_, shift) => first.map((sample) => (sample + shift) % t));
  return t % 2 === 0 || t === 1 ? square : [...square, ...square.map((row) => row.toReversed())];
}
