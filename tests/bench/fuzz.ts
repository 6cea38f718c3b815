/*
 * Breaks the small example ledger at random and looks at how pomary takes it. Each case is told by
 * its own seed, so that one that fails can be had again: npm run fuzz -- 1 SEED
 *
 * Run with the number of cases and the first seed: npm run fuzz -- 100000 1
 */
import { writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import fc from 'fast-check';
import { mutated } from '../support/mutations.ts';
import { SMALL_EXAMPLE } from '../support/small-example.ts';
import { troubleWith } from '../support/trouble-with.ts';

const cases = Number(process.argv[2] ?? 1_000);
const first = Number(process.argv[3] ?? 1);
const broken = mutated(SMALL_EXAMPLE);
const say = (text: string) => process.stdout.write(`${text}\n`);

const faults = new Map<string, number>();
const start = performance.now();
for (let seed = first; seed < first + cases; seed++) {
  const [files] = fc.sample(broken, { numRuns: 1, seed });
  if (files === undefined) continue;
  const trouble = await troubleWith(files, seed).catch((thrown: unknown) =>
    thrown instanceof Error ? `thrown: ${thrown.stack ?? thrown.message}` : String(thrown),
  );
  if (trouble !== undefined) {
    // One case of a kind will do: what differs is mostly names and numbers.
    const kind = trouble.split('\n', 1)[0]?.replace(/\d+/g, '0').slice(0, 120) ?? '';
    const seen = faults.get(kind) ?? 0;
    faults.set(kind, seen + 1);
    if (seen < 3) {
      const kept = join(tmpdir(), `pomary-fuzz-${seed}.json`);
      writeFileSync(kept, JSON.stringify(files, undefined, 2));
      say(`\nseed ${seed}: ${trouble}\nThe files: ${kept}`);
    }
  }
  const done = seed - first + 1;
  if (done % 5_000 === 0) say(`${done} cases, ${Math.round((performance.now() - start) / 1000)} s`);
}
say(
  `${cases} cases from seed ${first}: ${[...faults.values()].reduce((sum, n) => sum + n, 0)} with trouble`,
);
for (const [kind, count] of faults) say(`  ${count} x ${kind}`);
process.exitCode = faults.size === 0 ? 0 : 1;
