import { mkdirSync, utimesSync, writeFileSync } from 'node:fs';
import { dirname, join } from 'node:path';

/** Puts files by their paths into a folder, which is made; they were saved a minute ago. */
export function layFiles(
  folder: string,
  files: Readonly<Record<string, string | Uint8Array>>,
): void {
  mkdirSync(folder, { recursive: true });
  for (const [path, content] of Object.entries(files)) {
    mkdirSync(dirname(join(folder, path)), { recursive: true });
    writeFileSync(join(folder, path), content);
    const then = Date.now() / 1000 - 60;
    utimesSync(join(folder, path), then, then);
  }
}
