import { readFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import type { OwnFile } from '../cli/host.ts';

// Where they lie is told by `imports` in package.json, and for the built program by those of dist/package.json.
const require = createRequire(import.meta.url);

export function readOwnFile(name: OwnFile): Uint8Array {
  return readFileSync(require.resolve(`#${name}`));
}
