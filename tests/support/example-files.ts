import { readdirSync, readFileSync } from 'node:fs';
import { join, relative } from 'node:path';
import { fileURLToPath } from 'node:url';

const FOLDER = fileURLToPath(new URL('../../ledger-example', import.meta.url));

/** The example ledger as texts by path. */
export function exampleFiles(): Record<string, string> {
  const paths = readdirSync(FOLDER, { recursive: true, withFileTypes: true })
    .filter((entry) => entry.isFile())
    .map((entry) => join(entry.parentPath, entry.name));
  return Object.fromEntries(
    paths.map((path) => [relative(FOLDER, path).replaceAll('\\', '/'), readFileSync(path, 'utf8')]),
  );
}
