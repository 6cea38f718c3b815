import { type ChildProcess, fork } from 'node:child_process';

/** What became of one case: what the worker told of it, or why it could not. */
export type CaseEnd<Told> =
  | { readonly seed: number; readonly told: Told }
  | { readonly seed: number; readonly lost: string };

export interface CasePool {
  /** A module that calls `answerCases`, and its arguments. */
  readonly module: string;
  readonly args: readonly string[];
  readonly processes: number;
  /** Longest that a case may take, ms; its process is killed then. */
  readonly capMs: number;
}

/**
 * Runs cases in processes of their own, so that one that hangs or brings its process down is told
 * of and the rest go on. Ends come in the order of the seeds.
 */
export async function runCases<Told>(
  pool: CasePool,
  first: number,
  cases: number,
  onEnd: (end: CaseEnd<Told>) => void,
): Promise<void> {
  const ends = new Map<number, CaseEnd<Told>>();
  let due = first;
  const keep = (end: CaseEnd<Told>) => {
    ends.set(end.seed, end);
    for (let next = ends.get(due); next !== undefined; next = ends.get(due)) {
      ends.delete(due);
      due++;
      onEnd(next);
    }
  };
  let next = first;
  const take = () => (next < first + cases ? next++ : undefined);
  const workers = Math.max(1, Math.min(pool.processes, cases));
  await Promise.all(Array.from({ length: workers }, () => work(pool, take, keep)));
}

/** One process after the other, as long as there are cases. */
async function work<Told>(
  pool: CasePool,
  take: () => number | undefined,
  keep: (end: CaseEnd<Told>) => void,
): Promise<void> {
  let child: ChildProcess | undefined;
  for (let seed = take(); seed !== undefined; seed = take()) {
    child ??= fork(pool.module, pool.args);
    const end = await oneCase<Told>(child, seed, pool.capMs);
    if ('lost' in end) child = undefined;
    keep(end);
  }
  child?.disconnect();
}

function oneCase<Told>(child: ChildProcess, seed: number, capMs: number): Promise<CaseEnd<Told>> {
  return new Promise((resolve) => {
    const lose = (lost: string) => {
      child.kill('SIGKILL');
      settle({ seed, lost });
    };
    const onMessage = (told: unknown) => settle({ seed, told: told as Told });
    const onError = (error: Error) => lose(`its process could not be used: ${error.message}`);
    const onExit = (code: number | null, signal: string | null) =>
      settle({ seed, lost: `its process ended with ${signal ?? `status ${code}`}` });
    const timer = setTimeout(() => lose(`not done after ${capMs} ms`), capMs);
    const settle = (end: CaseEnd<Told>) => {
      clearTimeout(timer);
      child.off('message', onMessage).off('exit', onExit).off('error', onError);
      // Once it has been given up, what else befalls it is of no interest.
      if ('lost' in end) child.on('error', () => {});
      resolve(end);
    };
    child.on('message', onMessage).on('exit', onExit).on('error', onError);
    child.send(seed);
  });
}

/** The worker's side: answers each seed with what is told of its case. */
export function answerCases<Told>(tell: (seed: number) => Promise<Told>): void {
  process.on('message', (seed: number) => {
    // A case that throws brings its process down, and so is told of by `runCases`.
    void tell(seed).then((told) => process.send?.(told));
  });
}
