/**
 * The candidate nearest to what was typed, if any is near enough to be meant: at most a third of
 * the letters wrong, the first of equals. Distance is the optimal string alignment form of Damerau
 * (1964, Commun. ACM 7:171), which counts a swap of neighbours as one slip; case is ignored. In a
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

function isSwapped(a: string, b: string): boolean {
  return a.length === 2 && b.length === 2 && a[0] === b[1] && a[1] === b[0];
}

function alignmentDistance(a: string, b: string): number {
  let beforeLast: number[] = [];
  let last = Array.from({ length: b.length + 1 }, (_, column) => column);
  for (let row = 1; row <= a.length; row++) {
    const current = [row];
    for (let column = 1; column <= b.length; column++) {
      const same = a[row - 1] === b[column - 1];
      let cost = Math.min(
        (last[column] ?? 0) + 1,
        (current[column - 1] ?? 0) + 1,
        (last[column - 1] ?? 0) + (same ? 0 : 1),
      );
      if (a[row - 1] === b[column - 2] && a[row - 2] === b[column - 1]) {
        cost = Math.min(cost, (beforeLast[column - 2] ?? 0) + 1);
      }
      current.push(cost);
    }
    beforeLast = last;
    last = current;
  }
  return last[b.length] ?? 0;
}
