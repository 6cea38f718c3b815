import { spawnSync } from 'node:child_process';
import { writeFileSync } from 'node:fs';
import { join } from 'node:path';

/** How long one process took until it ended. */
export interface Times {
  /** User and system time of all its threads, ms. */
  readonly cpu: number;
  /** From start to end as its parent saw it, ms. */
  readonly wall: number;
}

/** What one process took until it ended. */
export interface Spending extends Times {
  /** Most memory held at once, MB. */
  readonly memory: number;
}

/** Nothing of the user's own settings; text is UTF-8. */
export const PLAIN_ENVIRONMENT = { PATH: process.env['PATH'] ?? '', LC_ALL: 'C.UTF-8' };

/** A command line of Node: what stands after `node`. */
export type NodeCommand = readonly string[];

/** Loaded before the program; the figures go out by a pipe of their own, so that its output is left alone. */
const METER = `process.on('exit', () => {
  const { userCPUTime, systemCPUTime, maxRSS } = process.resourceUsage();
  require('node:fs').writeSync(3, JSON.stringify([userCPUTime + systemCPUTime, maxRSS]));
});
`;

/** Runs Node command lines and tells what they took. `folder` is for what it needs on disk. */
export function spendingMeter(folder: string): (command: NodeCommand, input?: string) => Spending {
  const meter = join(folder, 'meter.cjs');
  writeFileSync(meter, METER);
  return (command, input = '') => {
    const start = performance.now();
    const { status, output, stderr } = spawnSync(process.execPath, ['-r', meter, ...command], {
      stdio: ['pipe', 'ignore', 'pipe', 'pipe'],
      input,
      env: PLAIN_ENVIRONMENT,
      encoding: 'utf8',
    });
    const wall = performance.now() - start;
    if (status !== 0) throw new Error(`${command.join(' ')} ended with ${status}: ${stderr}`);
    const [micros, kilobytes] = JSON.parse(String(output[3])) as [number, number];
    return { cpu: micros / 1000, wall, memory: kilobytes / 1024 };
  };
}

/**
 * How long any program takes, with the processes that it starts and waits for: by the clock that a shell keeps of its
 * children, to some milliseconds.
 *
 * @throws Error with what it says on standard error, if it fails
 */
export function programTimes(command: readonly string[]): Times {
  const start = performance.now();
  const { status, stdout, stderr } = spawnSync(
    'sh',
    ['-c', '"$@" >/dev/null || exit; times', 'sh', ...command],
    { env: PLAIN_ENVIRONMENT, encoding: 'utf8' },
  );
  const wall = performance.now() - start;
  if (status !== 0) throw new Error(`${command.join(' ')} ended with ${status}: ${stderr}`);
  const [, ofChildren = ''] = stdout.split('\n');
  const spent = [...ofChildren.matchAll(/(\d+)m([\d.]+)s/g)];
  const cpu = spent.reduce((sum, [, min, s]) => sum + 60_000 * Number(min) + 1000 * Number(s), 0);
  return { cpu, wall };
}

/**
 * Medians over `runs` runs of each command. The commands take turns, so that what else the machine does
 * falls on all of them alike.
 */
export function pairedSpendings<Command extends readonly string[], Spent extends Times>(
  commands: readonly Command[],
  runs: number,
  spend: (command: Command) => Spent,
): readonly Spent[] {
  const taken: Spent[][] = commands.map(() => []);
  for (let run = 0; run < runs; run++) {
    for (const [at, command] of commands.entries()) taken[at]?.push(spend(command));
  }
  return taken.map(medians);
}

function medians<Spent extends Times>(taken: readonly Spent[]): Spent {
  const kinds = Object.keys(taken[0] ?? {}) as (keyof Spent)[];
  const middles = kinds.map((kind) => [kind, middle(taken.map((one) => Number(one[kind])))]);
  return Object.fromEntries(middles) as Spent;
}

function middle(values: readonly number[]): number {
  const sorted = values.toSorted((a, b) => a - b);
  const at = (sorted.length - 1) / 2;
  return ((sorted[Math.floor(at)] ?? 0) + (sorted[Math.ceil(at)] ?? 0)) / 2;
}

/** b of y = a x^b, by least squares on the logarithms. */
export function growthExponent(sizes: readonly number[], values: readonly number[]): number {
  const x = sizes.map(Math.log);
  const y = values.map(Math.log);
  const mean = (all: readonly number[]) => all.reduce((sum, one) => sum + one, 0) / all.length;
  const [mx, my] = [mean(x), mean(y)];
  const cross = x.reduce((sum, one, at) => sum + (one - mx) * ((y[at] ?? my) - my), 0);
  return cross / x.reduce((sum, one) => sum + (one - mx) ** 2, 0);
}
