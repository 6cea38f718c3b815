import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { exampleFiles } from './example-files.ts';

const ROOT = fileURLToPath(new URL('../neighbours/', import.meta.url));

export const NEIGHBOURS = ['hill-foot', 'quay-row', 'mill-bend'] as const;

/** The example ledger in `home` and its neighbours beside it. */
export function neighbourFiles(): Record<string, string> {
  const home = Object.entries(exampleFiles()).map(([path, text]) => [`home/${path}`, text]);
  const others = NEIGHBOURS.flatMap((garden) =>
    readdirSync(join(ROOT, garden), { recursive: true, encoding: 'utf8' })
      .filter((path) => path.endsWith('.yaml'))
      .map((path) => [
        `${garden}/${path.replaceAll('\\', '/')}`,
        readFileSync(join(ROOT, garden, path), 'utf8'),
      ]),
  );
  return Object.fromEntries([...home, ...others]);
}
