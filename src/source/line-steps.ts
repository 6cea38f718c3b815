/** What became of one line between an old list of lines and a new one. */
export interface Step {
  readonly kind: 'kept' | 'gone' | 'come';
  readonly line: string;
}

/** More changed lines than this are taken for one replaced block: the search takes their square. */
const MOST_CHANGES = 1000;

/**
 * The steps from one list of lines to another, as few as can be; where a great many lines differ, all
 * of the old ones go and all of the new ones come.
 */
export function stepsBetween(old: readonly string[], made: readonly string[]): readonly Step[] {
  let head = 0;
  while (head < old.length && head < made.length && old[head] === made[head]) head++;
  let tail = 0;
  const room = Math.min(old.length, made.length) - head;
  while (tail < room && old.at(-1 - tail) === made.at(-1 - tail)) tail++;
  const kept = (lines: readonly string[]) => lines.map((line): Step => ({ kind: 'kept', line }));
  return [
    ...kept(old.slice(0, head)),
    ...changedSteps(old.slice(head, old.length - tail), made.slice(head, made.length - tail)),
    ...kept(old.slice(old.length - tail)),
  ];
}

/**
 * The shortest way from one list of lines to the other: the greedy algorithm of Myers 1986, "An
 * O(ND) difference algorithm and its variations", Algorithmica 1:251-266. `reach[k]` is how far in
 * the old lines a way gets on diagonal k; each round allows one more change.
 */
function changedSteps(old: readonly string[], made: readonly string[]): readonly Step[] {
  const rounds: Map<number, number>[] = [];
  let reach = new Map<number, number>([[1, 0]]);
  for (let changes = 0; changes <= Math.min(MOST_CHANGES, old.length + made.length); changes++) {
    const next = new Map(reach);
    for (let k = -changes; k <= changes; k += 2) {
      const down = k === -changes || (k !== changes && far(reach, k - 1) < far(reach, k + 1));
      let x = down ? far(reach, k + 1) : far(reach, k - 1) + 1;
      while (x < old.length && x - k < made.length && old[x] === made[x - k]) x++;
      next.set(k, x);
      if (x >= old.length && x - k >= made.length) return traced(old, made, rounds, changes);
    }
    rounds.push(next);
    reach = next;
  }
  return [
    ...old.map((line): Step => ({ kind: 'gone', line })),
    ...made.map((line): Step => ({ kind: 'come', line })),
  ];
}

function far(reach: ReadonlyMap<number, number>, k: number): number {
  return reach.get(k) ?? -1;
}

/** The way back through the rounds, as steps in the order of the lines. */
function traced(
  old: readonly string[],
  made: readonly string[],
  rounds: readonly ReadonlyMap<number, number>[],
  changes: number,
): readonly Step[] {
  const steps: Step[] = [];
  let x = old.length;
  let y = made.length;
  for (let round = changes; round >= 0; round--) {
    const reach = rounds[round - 1] ?? new Map([[1, 0]]);
    const k = x - y;
    const down = k === -round || (k !== round && far(reach, k - 1) < far(reach, k + 1));
    const beforeX = round === 0 ? 0 : far(reach, down ? k + 1 : k - 1);
    const beforeY = round === 0 ? 0 : beforeX - (down ? k + 1 : k - 1);
    while (x > beforeX && y > beforeY) {
      steps.push({ kind: 'kept', line: old[x - 1] ?? '' });
      x--;
      y--;
    }
    if (round === 0) break;
    if (down) steps.push({ kind: 'come', line: made[y - 1] ?? '' });
    else steps.push({ kind: 'gone', line: old[x - 1] ?? '' });
    x = beforeX;
    y = beforeY;
  }
  return steps.reverse();
}
