import { spawnSync } from 'node:child_process';
import { mkdtempSync, readdirSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join, resolve } from 'node:path';
import { pathToFileURL } from 'node:url';
import {
  growthExponent,
  type NodeCommand,
  pairedSpendings,
  type Spending,
  spendingMeter,
} from './bench-spending.ts';
import { LARGE } from './large-ledger.ts';
import { writeLargeLedger } from './write-large-ledger.ts';

/**
 * How long the program takes and how much memory, as ratios to Node processes that do the least that could be done:
 * nothing at all, or load the same files with js-yaml. Everything is measured in one run and in turns; CPU time is
 * what to judge by, since it depends least on what else the machine is doing.
 *
 * Usage: bench [runs] [commands, with commas between]
 */
const [runsText = '7', wanted = ''] = process.argv.slice(2);
const runs = Number(runsText);
const only = wanted === '' ? undefined : wanted.split(',');

const COMMANDS = 'check yield weights scores preference rank verdict day post enter'.split(' ');
/** Commands whose growth is told. */
const GROWING = ['check', 'yield', 'rank'];
const GROWTH = [0.25, 0.5, 1, 2];
const SEED = 1;
type Goals = Readonly<Record<string, number>>;
/** Ratios of CPU time that are aimed at: of a grower's own ledger to starting Node, */
const EXAMPLE_GOALS: Goals = {
  '--version': 1.3,
  ...{ check: 7, yield: 8, weights: 8, enter: 8, scores: 12, rank: 16, day: 16, post: 26 },
};
/** and of a large one to reading its files. */
const LARGE_GOALS: Goals = { check: 2.2, rank: 3.5 };
/** The same for `enter` into a ledger whose only season file is of the usual size of the large ledger's. */
const ONE_SEASON_GOAL = 2;
const MEMORY_GOAL = 2.5;
const EXPONENT_GOAL = 1.1;

const BIN = resolve('bin/pomary.js');
const EXAMPLE = resolve('ledger-example');

const JS_YAML = pathToFileURL(resolve('node_modules/js-yaml/dist/js-yaml.mjs')).href;

/** What any reader of a ledger must do: start, read the files, parse them. */
const FLOOR = `import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { load } from ${JSON.stringify(JS_YAML)};
const folder = process.argv[2];
const kept = [];
for (const path of readdirSync(folder, { recursive: true })) {
  if (path.endsWith('.yaml')) kept.push(load(readFileSync(join(folder, path), 'utf8')));
  if (path.endsWith('.csv')) kept.push(readFileSync(join(folder, path), 'utf8'));
}
if (kept.length === 0) throw new Error('nothing was read');
`;

const say = (text: string) => process.stdout.write(`${text}\n`);

const folder = mkdtempSync(join(tmpdir(), 'pomary-bench-'));
try {
  measureAll();
} finally {
  rmSync(folder, { recursive: true, force: true });
}

function measureAll(): void {
  const spend = spendingMeter(folder);
  const floor = join(folder, 'floor.mjs');
  writeFileSync(floor, FLOOR);
  // A command that is not there yet is left out of the table.
  const known = commandNames();
  const asked = COMMANDS.filter((name) => known.has(name) && (only?.includes(name) ?? true));
  const large = writeLedger('large', 1);

  say(`Node ${process.version}, medians of ${runs} runs taken in turns.\n`);
  say('| | CPU ms | floor ms | CPU ratio | goal | wall ratio | memory MB | memory ratio |');
  say('|---|--:|--:|--:|--:|--:|--:|--:|');
  const start: NodeCommand = ['-e', '0'];
  table(
    'over `node -e 0`',
    start,
    [
      ['--version', [BIN, '--version']],
      ['--help', [BIN, '--help']],
    ],
    spend,
    EXAMPLE_GOALS,
  );
  const rowsOf = (ledger: string) =>
    asked.map((command) => [command, commandLine(command, ledger)] as const);
  table('example ledger over `node -e 0`', start, rowsOf(EXAMPLE), spend, EXAMPLE_GOALS);
  const title = 'large ledger over its files in js-yaml';
  table(title, [floor, large], rowsOf(large), spend, LARGE_GOALS);
  if (asked.includes('enter')) {
    const one = writeLedger('one', 1, 1);
    const rows = [['enter', commandLine('enter', one)]] as const;
    const title = 'ledger of one season file over its files in js-yaml';
    table(title, [floor, one], rows, spend, { enter: ONE_SEASON_GOAL });
  }
  growth(
    GROWING.filter((name) => asked.includes(name)),
    spend,
  );
}

type Meter = ReturnType<typeof spendingMeter>;

function table(
  title: string,
  floor: NodeCommand,
  rows: readonly (readonly [string, NodeCommand])[],
  spend: Meter,
  goals: Goals,
): void {
  say(`| **${title}** | | | | | | | |`);
  const [least, ...taken] = pairedSpendings([floor, ...rows.map(([, line]) => line)], runs, spend);
  if (least === undefined) return;
  for (const [at, { cpu, wall, memory }] of taken.entries()) {
    const name = rows[at]?.[0] ?? '';
    const goal = goals[name];
    const cells = [
      `\`${name}\``,
      cpu.toFixed(0),
      least.cpu.toFixed(0),
      told(cpu / least.cpu, goal),
      goal ?? '',
      (wall / least.wall).toFixed(2),
      memory.toFixed(0),
      told(memory / least.memory, MEMORY_GOAL),
    ];
    say(`| ${cells.join(' | ')} |`);
  }
}

/** Growth of what a command takes beyond starting the program. */
function growth(names: readonly string[], spend: Meter): void {
  if (names.length === 0) return;
  const ledgers = GROWTH.map((factor) => writeLedger(`times-${factor}`, factor));
  const start: NodeCommand = [BIN, '--help'];
  const lines = names.flatMap((name) => ledgers.map((ledger) => commandLine(name, ledger)));
  const [least, ...taken] = pairedSpendings([start, ...lines], Math.min(runs, 5), spend);
  say('| **growth with entries, `--help` taken off** | | | | | | | |');
  for (const [at, name] of names.entries()) {
    const own: readonly Spending[] = taken.slice(at * GROWTH.length, (at + 1) * GROWTH.length);
    const beyond = own.map(({ cpu }) => cpu - (least?.cpu ?? 0));
    const times = beyond.map((cpu) => cpu.toFixed(0)).join(', ');
    const exponent = told(growthExponent(GROWTH, beyond), EXPONENT_GOAL);
    say(
      `| \`${name}\`, 1, 2, 4, 8 times | ${times} | | exponent ${exponent} | ${EXPONENT_GOAL} | | | |`,
    );
  }
}

function told(ratio: number, goal: number | undefined): string {
  return `${ratio.toFixed(2)}${goal !== undefined && ratio > goal ? ' (over)' : ''}`;
}

function commandLine(name: string, ledger: string): NodeCommand {
  const line: NodeCommand = [BIN, '--ledger', ledger, name];
  return name === 'enter'
    ? [...line, '--dry-run', '--on', lastDay(ledger), entryFor(ledger)]
    : line;
}

/** A day in the last season of a ledger, after all its entries. */
function lastDay(ledger: string): string {
  const last = readdirSync(join(ledger, 'seasons')).sort().at(-1) ?? '';
  return `${last.replace('.yaml', '')}-10-28`;
}

/** A file with one line to enter, for a tree of the ledger. */
function entryFor(ledger: string): string {
  const tree = ledger === EXAMPLE ? 'G1' : 'T1';
  const file = join(folder, `${tree}.txt`);
  writeFileSync(file, `pick ${tree} main 52.4 47\n`);
  return file;
}

/** Names of the commands that the program has. */
function commandNames(): ReadonlySet<string> {
  const { stdout } = spawnSync(process.execPath, [BIN, '--help'], { encoding: 'utf8' });
  return new Set([...stdout.matchAll(/^ {2}([a-z]+)/gm)].map((found) => String(found[1])));
}

function writeLedger(name: string, factor: number, seasons = LARGE.seasons): string {
  const at = join(folder, name);
  writeLargeLedger(at, factor, SEED, seasons);
  return at;
}
