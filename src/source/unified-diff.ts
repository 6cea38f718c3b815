import { type Step, stepsBetween } from './line-steps.ts';

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

/** Lines with their line ends, so that a last line without one differs from one that has it. */
export function linesOf(text: string): readonly string[] {
  return text.match(/[^\n]*\n|[^\n]+$/g) ?? [];
}

/** Unchanged lines that are shown around a change. */
const CONTEXT = 3;

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
