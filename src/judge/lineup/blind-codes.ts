import type { SeededRandom } from '../../stats/random/seeded-random.ts';

/**
 * Random three-digit codes for samples, none with a leading zero or three like digits, no two with
 * more than one digit alike in its place as long as there are enough such codes, so that a slip of
 * the pen names no other plate. Three-digit random codes are common practice at tastings, no source.
 *
 * @param count how many, at most 891 less those that are taken
 * @param taken labels that must not come again
 * @throws RangeError if there are not so many codes
 */
export function blindCodes(
  count: number,
  taken: ReadonlySet<string>,
  random: Pick<SeededRandom, 'shuffle'>,
): string[] {
  const all = Array.from({ length: 900 }, (_, at) => String(100 + at));
  const free = random.shuffle(all).filter((code) => !taken.has(code) && new Set(code).size > 1);
  const far: string[] = [];
  for (const code of free) {
    if (far.length === count) break;
    if (far.every((other) => alike(code, other) < 2)) far.push(code);
  }
  const codes = far.length < count ? [...far, ...free.filter((one) => !far.includes(one))] : far;
  if (codes.length < count) throw new RangeError(`there are no ${count} free codes`);
  return codes.slice(0, count);
}

function alike(a: string, b: string): number {
  return [...a].filter((digit, place) => b[place] === digit).length;
}
