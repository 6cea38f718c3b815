/*
 * Breaks the small example ledger at random and looks at how pomary takes it. Each case is told by
 * its own seed, so that one that fails can be had again: npm run fuzz -- 1 SEED
 *
 * Run with the number of cases and the first seed: npm run fuzz -- 100000 1
 * A third number says how many processes share the work; as many as there are processors if left out.
 */
import { availableParallelism } from 'node:os';
import { fileURLToPath } from 'node:url';
import { answerCases, type CaseEnd, runCases } from '../support/case-pool.ts';
import { KINDS } from '../support/mutations.ts';
import { nothingSpent } from '../support/trouble-with.ts';
import { type FuzzCase, fuzzCase } from './fuzz-case.ts';

/** Longest that a case may take, ms: far more than the slowest needs on a busy computer. */
const CAP_MS = 120_000;
const WORKER = 'worker';

if (process.argv[2] === WORKER) answerCases(fuzzCase);
else await search();

async function search(): Promise<void> {
  const [cases = 1_000, first = 1, processes = availableParallelism()] = process.argv
    .slice(2)
    .map(Number);
  const say = (text: string) => process.stdout.write(`${text}\n`);
  const faults = new Map<string, number>();
  const spent = nothingSpent();
  const kinds = new Map<string, number>(KINDS.map((kind) => [kind, 0]));
  let unchanged = 0;
  const start = performance.now();

  const onEnd = (end: CaseEnd<FuzzCase>) => {
    const { seed } = end;
    if ('lost' in end) note(seed, `lost: ${end.lost}`);
    else {
      const { told } = end;
      for (const key of Object.keys(spent) as (keyof typeof spent)[]) spent[key] += told.spent[key];
      for (const kind of told.kinds) kinds.set(kind, (kinds.get(kind) ?? 0) + 1);
      if (told.kinds.length === 0) unchanged++;
      if (told.trouble !== undefined) note(seed, told.trouble, told.kept);
    }
    const done = seed - first + 1;
    if (done % 5_000 === 0)
      say(`${done} cases, ${Math.round((performance.now() - start) / 1000)} s`);
  };
  const note = (seed: number, trouble: string, kept?: string) => {
    // One case of a kind will do: what differs is mostly names and numbers.
    const kind = trouble.split('\n', 1)[0]?.replace(/\d+/g, '0').slice(0, 120) ?? '';
    const seen = faults.get(kind) ?? 0;
    faults.set(kind, seen + 1);
    if (seen >= 3) return;
    say(`\nseed ${seed}: ${trouble}${kept === undefined ? '' : `\nThe files: ${kept}`}`);
  };

  const pool = { module: fileURLToPath(import.meta.url), args: [WORKER], processes, capMs: CAP_MS };
  await runCases(pool, first, cases, onEnd);

  const trouble = [...faults.values()].reduce((sum, n) => sum + n, 0);
  say(`${cases} cases from seed ${first}: ${trouble} with trouble`);
  for (const [kind, count] of faults) say(`  ${count} x ${kind}`);
  say(`  ${spent.sound} ledgers were sound, ${spent.faulty} had errors, ${spent.none} were none`);
  say(`  ${spent.commands} commands run, ${spent.pages} pages drawn up beside them`);
  const changes = [...kinds].map(([kind, count]) => `${kind} ${count}`).join(', ');
  say(`  changes made: ${changes}; ${unchanged} ledgers unchanged`);
  process.exitCode = faults.size === 0 ? 0 : 1;
}
