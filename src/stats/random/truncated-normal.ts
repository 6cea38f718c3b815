import type { SeededRandom } from './seeded-random.ts';

/** Widths above this are cheaper drawn from the whole normal distribution: root of 2 pi. */
const WIDE = 2.5;

/**
 * A standard normal between two bounds, by rejection (Robert 1995, Statistics and Computing 5:121-125).
 *
 * @param low below `high`; either may be infinite
 */
export function truncatedNormal(low: number, high: number, random: SeededRandom): number {
  if (high < 0) return -truncatedNormal(-high, -low, random);
  if (low <= 0 && high - low > WIDE) {
    for (;;) {
      const drawn = random.normal();
      if (low <= drawn && drawn <= high) return drawn;
    }
  }
  const nearest = Math.max(0, low);
  const rate = (low + Math.sqrt(low * low + 4)) / 2;
  if (low > 0 && high - low > 1 / rate) {
    for (;;) {
      const drawn = low - Math.log(1 - random.uniform()) / rate;
      if (drawn <= high && random.uniform() <= Math.exp(-((drawn - rate) ** 2) / 2)) return drawn;
    }
  }
  for (;;) {
    const drawn = low + (high - low) * random.uniform();
    if (random.uniform() <= Math.exp((nearest * nearest - drawn * drawn) / 2)) return drawn;
  }
}
