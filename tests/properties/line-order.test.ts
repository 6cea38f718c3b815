import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { TABLE_NAMES } from '../../src/cli/table-names.ts';
import { exampleFiles } from '../support/example-files.ts';
import { runOn } from '../support/run-on.ts';
import { shuffledFiles } from '../support/shuffled-files.ts';
import { SMALL_EXAMPLE } from '../support/small-example.ts';

// A figure is a function of what is written, not of the order of lines: every report says the same to the last byte
// whichever way the keys and entries of a ledger are put.

/** What reports that count and average are asked, with options that take other ways through them. */
const COUNTED: readonly string[] = [
  'yield',
  'yield --by tree',
  'yield --by site,season --sort load',
  'yield --by cultivar,site,season --confidence 80',
  'weights',
  'weights --by tree,season',
  'crops',
  'crops --by site',
  'soundness',
  'soundness --by site,season',
  'soundness --after rain --within 3',
  'soundness --after water --within 4',
  'ripening',
  'ripening --by tree',
  'ripening --by site,season --sort shareBeforeFrost',
  'scores',
  'scores --by tree --explain',
  'scores --ripeness ripe --ripeness under --confidence 80',
  'scores --trait flavour --by tree',
  'preference',
  'preference --from both --prior 0',
  'preference --from scores --explain',
  'stability',
  'stability --of size',
  'stability --of flavour --explain',
];

/** What is asked of those that draw from the model of the index, which takes its time. */
const DRAWN: readonly string[] = [
  'rank',
  'rank --crop early --top 1 --explain',
  'rank --confidence 80 --seed 7',
  'rank --season 2026',
  'rank --by cover --crop main',
  'compare amber-lantern slate-quay',
  'verdict',
  'verdict --confidence 60 --explain',
  'verdict --by cover --crop main',
  'lineup --on 2026-09-12 --seed 3',
  'lineup --candidates amber-lantern,slate-quay,ferry-bell --seed 3',
  'card amber-lantern',
  'changes --season 2026 --against 2025',
];

async function told(files: Readonly<Record<string, string>>, asked: string): Promise<string> {
  const { exit, out, err } = await runOn([...asked.split(' '), '--format', 'json'], files);
  return `${asked}: ${exit}\n${err}\n${out}`;
}

async function exported(files: Readonly<Record<string, string>>, table: string): Promise<string> {
  const { exit, out, err } = await runOn(['export', '--table', table], files);
  return `${table}: ${exit}\n${err}\n${out}`;
}

async function counted(files: Readonly<Record<string, string>>): Promise<readonly string[]> {
  const all = await answers(files, COUNTED);
  for (const table of TABLE_NAMES) all.push(await exported(files, table));
  return all;
}

async function answers(
  files: Readonly<Record<string, string>>,
  asked: readonly string[],
): Promise<string[]> {
  const all: string[] = [];
  for (const one of asked) all.push(await told(files, one));
  return all;
}

/** Numbers in turn from one that fast-check chooses, so that a failure can be had again. */
function randomFrom(start: number): () => number {
  let state = start;
  return () => {
    // Park and Miller 1988, Communications of the ACM 31:1192-1201.
    state = (16_807 * state) % 2_147_483_647;
    return (state - 1) / 2_147_483_646;
  };
}

/** Of a machine that does much else. */
const MINUTES = 300_000;

const start = fc.integer({ min: 1, max: 2_147_483_646 });

const UNDERSTOOD = /^[^\n]*: 0\n\n/;

describe('lines in another order', () => {
  test('change nothing that is counted in a small ledger', { timeout: MINUTES }, async () => {
    const before = await counted(SMALL_EXAMPLE);
    for (const answer of before) expect(answer).toMatch(UNDERSTOOD);
    await fc.assert(
      fc.asyncProperty(start, async (from) => {
        const files = shuffledFiles(SMALL_EXAMPLE, randomFrom(from));
        expect(await counted(files)).toEqual(before);
      }),
      { seed: 20260912, numRuns: 5 },
    );
  });

  test('change nothing that is drawn from a small ledger', { timeout: MINUTES }, async () => {
    const before = await answers(SMALL_EXAMPLE, DRAWN);
    for (const answer of before) expect(answer).toMatch(UNDERSTOOD);
    const files = shuffledFiles(SMALL_EXAMPLE, randomFrom(20_260_912));
    expect(await answers(files, DRAWN)).toEqual(before);
  });

  test('change neither in the example', { timeout: MINUTES }, async () => {
    const files = exampleFiles();
    const shuffled = shuffledFiles(files, randomFrom(1));
    expect(await counted(shuffled)).toEqual(await counted(files));
    const drawn = ['rank', 'compare amber-lantern slate-quay'];
    expect(await answers(shuffled, drawn)).toEqual(await answers(files, drawn));
  });
});
