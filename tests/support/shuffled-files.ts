import { decode } from '../../src/reading/decode.ts';
import { readYaml } from '../../src/reading/yaml-read.ts';

/** Lists of a season file whose order says nothing; inside a list of ranks, ties are one more. */
const LOOSE = new Set(['counts', 'picks', 'drops', 'tastings', 'growth', 'events', 'samples']);

/**
 * The same ledger with its lines in another order: keys of every mapping and entries of every section, samples
 * of sittings, and what is tied in an order. Lists that mean their order (traits, weights, ranks) stay.
 *
 * @param random 0 to 1, below 1
 */
export function shuffledFiles(
  files: Readonly<Record<string, string>>,
  random: () => number,
): Record<string, string> {
  return Object.fromEntries(
    Object.entries(files).map(([path, text]) => {
      if (!path.endsWith('.yaml')) return [path, text];
      const bytes = new TextEncoder().encode(text);
      const { file } = decode({ path, bytes, size: bytes.length });
      return [path, JSON.stringify(shuffledValue(readYaml(file).value, random), null, 1)];
    }),
  );
}

function shuffledValue(value: unknown, random: () => number, key = ''): unknown {
  if (Array.isArray(value)) {
    const inner = value.map((one) => shuffledValue(one, random, key === 'ranks' ? 'tied' : ''));
    return LOOSE.has(key) || key === 'tied' ? shuffled(inner, random) : inner;
  }
  if (typeof value !== 'object' || value === null) return value;
  const entries = Object.entries(value).map(([name, one]): [string, unknown] => [
    name,
    // The best-first lists of tasters stand under `order`.
    key === 'order' ? shuffledValue(one, random, 'ranks') : shuffledValue(one, random, name),
  ]);
  return Object.fromEntries(shuffled(entries, random));
}

/** By Fisher and Yates. */
function shuffled<Thing>(things: readonly Thing[], random: () => number): Thing[] {
  const mixed = [...things];
  for (let last = mixed.length - 1; last > 0; last--) {
    const at = Math.floor(random() * (last + 1));
    [mixed[last], mixed[at]] = [mixed[at] as Thing, mixed[last] as Thing];
  }
  return mixed;
}
