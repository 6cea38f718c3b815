import { alignmentDistance } from '../stats/words/alignment-distance.ts';

/**
 * The candidate nearest to what was typed, if any is near enough to be meant: at most a third of
 * the letters wrong, the first of equals. A swap of neighbours is one slip (`alignmentDistance`); case is ignored. In a
 * word of one or two letters only case and a swap are slips: G4 is another tree than G3.
 */
export function didYouMean(typed: string, candidates: Iterable<string>): string | undefined {
  const wanted = typed.toLowerCase();
  let best: string | undefined;
  let bestDistance = Number.POSITIVE_INFINITY;
  for (const candidate of candidates) {
    const offered = candidate.toLowerCase();
    // The beginning of a longer word is a word cut short: "wait" for "wait_days".
    if (wanted.length >= 3 && offered.startsWith(wanted)) return candidate;
    const longest = Math.max(wanted.length, offered.length);
    const allowed = isSwapped(wanted, offered) ? 1 : Math.floor(longest / 3);
    if (Math.abs(wanted.length - offered.length) > allowed) continue;
    const distance = alignmentDistance(wanted, offered);
    if (distance <= allowed && distance < bestDistance) {
      best = candidate;
      bestDistance = distance;
    }
  }
  return best;
}

/** Whether two names may be one with a slip of a letter: they are long, and no figure differs. */
export function isOneSlipFrom(a: string, b: string): boolean {
  const [left, right] = [a, b].map((text) => text.toLowerCase().replaceAll(/[^\p{L}\p{N}]/gu, ''));
  const digits = [a, b].map((text) => text.replaceAll(/\D/g, ''));
  if (left === undefined || right === undefined || digits[0] !== digits[1]) return false;
  return Math.min(left.length, right.length) >= 6 && alignmentDistance(left, right) <= 1;
}

function isSwapped(a: string, b: string): boolean {
  return a.length === 2 && b.length === 2 && a[0] === b[1] && a[1] === b[0];
}
