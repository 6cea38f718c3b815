import { writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import fc from 'fast-check';
import { broken, type Kind } from '../support/mutations.ts';
import { SMALL_EXAMPLE } from '../support/small-example.ts';
import { nothingSpent, type Spent, troubleWith } from '../support/trouble-with.ts';

/** What there is to tell of one broken ledger. */
export interface FuzzCase {
  readonly kinds: readonly Kind[];
  readonly spent: Spent;
  readonly trouble?: string;
  /** Where the files are that make trouble. */
  readonly kept?: string;
}

const ledgers = broken(SMALL_EXAMPLE);

/** Breaks the small example as the seed says, and looks at how pomary takes it. */
export async function fuzzCase(seed: number): Promise<FuzzCase> {
  const spent = nothingSpent();
  const [made] = fc.sample(ledgers, { numRuns: 1, seed });
  if (made === undefined) throw new TypeError('no case of that seed');
  const { files, kinds } = made;
  const trouble = await troubleWith(files, seed, spent).catch((thrown: unknown) =>
    thrown instanceof Error ? `thrown: ${thrown.stack ?? thrown.message}` : String(thrown),
  );
  if (trouble === undefined) return { kinds, spent };
  const kept = join(tmpdir(), `pomary-fuzz-${seed}.json`);
  const texts = Object.entries(files).map(([path, content]) => [
    path,
    typeof content === 'string' ? content : { base64: Buffer.from(content).toString('base64') },
  ]);
  writeFileSync(kept, JSON.stringify(Object.fromEntries(texts), undefined, 2));
  return { kinds, spent, trouble, kept };
}
