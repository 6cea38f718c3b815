import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join, resolve } from 'node:path';
import { writeLargeLedger } from '../bench/write-large-ledger.ts';
import { compareFigures } from './compare-figures.ts';
import { compareRanks, figuresOf, isEqual } from './compare-ledger.ts';
import { figureTable, orderTable } from './figure-tables.ts';
import { hasR } from './plain-figures.ts';
import { TIME_HEAD, timeRows } from './time-rows.ts';

/**
 * What a trial keeper who knows R could do instead: export the tables and work the figures out with base R. Are they
 * the same, and which takes longer? Ends with 1 if any figure differs, and with 0 where R is not installed.
 *
 * Usage: alternative [runs]
 */
const runs = Number(process.argv[2] ?? '3');
const SEED = 1;

const say = (...lines: readonly string[]) => process.stdout.write(`${lines.join('\n')}\n`);

const folder = mkdtempSync(join(tmpdir(), 'pomary-alternative-'));
try {
  if (hasR()) await compareAll();
  else say('Nothing compared: Rscript is not installed (Debian: r-base-core).');
} finally {
  rmSync(folder, { recursive: true, force: true });
}

async function compareAll(): Promise<void> {
  const large = join(folder, 'large');
  writeLargeLedger(large, 1, SEED);
  const ledgers = [
    { name: 'example', ledger: resolve('ledger-example'), tables: join(folder, 'example-tables') },
    { name: 'large', ledger: large, tables: join(folder, 'large-tables') },
  ];
  const compared = [];
  for (const { name, ledger, tables } of ledgers) {
    const { pomary, r } = await figuresOf(ledger, tables);
    compared.push({ name, told: compareFigures(pomary, r) });
  }
  say(...figureTable(compared), '');
  if (!compared.every(({ told }) => isEqual(told))) process.exitCode = 1;
  const orders = ledgers.map(({ name, ledger, tables }) => ({
    name,
    told: compareRanks(ledger, tables),
  }));
  say(...orderTable(orders), '');
  say(
    `Node ${process.version}, medians of ${runs} runs taken in turns. R starts from exported tables:`,
  );
  say('it reads no YAML, checks nothing and writes no notes.', '', ...TIME_HEAD);
  for (const { name, ledger, tables } of ledgers) {
    say(...timeRows(name, { ledger, tables, again: join(folder, 'again') }, runs));
  }
}
