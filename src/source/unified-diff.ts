/**
 * What became of a text, in the unified format of GNU diff ("Comparing and Merging Files", 2.2.2),
 * which `git apply` and `patch` read; empty where nothing did. A text that is undefined is of a file
 * that is not there.
 */
export function unifiedDiff(path: string, before: string | undefined, after: string): string {
  const old = linesOf(before ?? '');
  const made = linesOf(after);
  const steps = stepsBetween(old, made);
  if (steps.every(({ kind }) => kind === 'kept')) return '';
  const from = before === undefined ? '/dev/null' : `a/${path}`;
  const hunks = hunksOf(steps).map(hunkText);
  return `--- ${from}\n+++ b/${path}\n${hunks.join('')}`;
}

interface Step {
  readonly kind: 'kept' | 'gone' | 'come';
  readonly line: string;
}

/** Lines with their line ends, so that a last line without one differs from one that has it. */
function linesOf(text: string): readonly string[] {
  return text.match(/[^\n]*\n|[^\n]+$/g) ?? [];
}

/** Unchanged lines that are shown around a change. */
const CONTEXT = 3;

/** More changed lines than this are shown as one replaced block: the search takes their square. */
const MOST_CHANGES = 1000;

function stepsBetween(old: readonly string[], made: readonly string[]): readonly Step[] {
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

interface Hunk {
  /** Lines before the hunk in the old and in the new text. */
  readonly oldBefore: number;
  readonly newBefore: number;
  readonly steps: readonly Step[];
}

function hunksOf(steps: readonly Step[]): readonly Hunk[] {
  const shown = steps.map(() => false);
  for (const [index, { kind }] of steps.entries()) {
    if (kind === 'kept') continue;
    shown.fill(true, Math.max(0, index - CONTEXT), index + CONTEXT + 1);
  }
  const hunks: Hunk[] = [];
  let current: Step[] | undefined;
  let oldBefore = 0;
  let newBefore = 0;
  for (const [index, step] of steps.entries()) {
    if (shown[index] !== true) current = undefined;
    else if (current === undefined) {
      current = [step];
      hunks.push({ oldBefore, newBefore, steps: current });
    } else current.push(step);
    if (step.kind !== 'come') oldBefore++;
    if (step.kind !== 'gone') newBefore++;
  }
  return hunks;
}

const SIGNS = { kept: ' ', gone: '-', come: '+' } as const;

function hunkText({ oldBefore, newBefore, steps }: Hunk): string {
  const oldCount = steps.filter(({ kind }) => kind !== 'come').length;
  const newCount = steps.filter(({ kind }) => kind !== 'gone').length;
  const lines = steps.map(({ kind, line }) => {
    const end = line.endsWith('\n') ? '' : '\n\\ No newline at end of file\n';
    return `${SIGNS[kind]}${line}${end}`;
  });
  const header = `@@ -${range(oldBefore, oldCount)} +${range(newBefore, newCount)} @@\n`;
  return header + lines.join('');
}

/** An empty range is named by the line before it. */
function range(before: number, count: number): string {
  const start = count === 0 ? before : before + 1;
  return count === 1 ? `${start}` : `${start},${count}`;
}
