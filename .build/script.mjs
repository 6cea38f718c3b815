// Runs a TypeScript script of tests/ on any supported Node: `node .build/script.mjs FILE [arguments]`.
import { spawnSync } from 'node:child_process';
import { mkdtempSync, rmSync } from 'node:fs';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { build } from 'esbuild';

const [file, ...rest] = process.argv.slice(2);
const root = fileURLToPath(new URL('..', import.meta.url));
// Inside the project, so that its names for late packages (`imports` in package.json) hold.
const folder = mkdtempSync(join(root, '.build', 'run-'));
try {
  const outfile = join(folder, 'script.mjs');
  await build({
    absWorkingDir: root,
    entryPoints: [file],
    outfile,
    bundle: true,
    platform: 'node',
    format: 'esm',
    target: 'node20',
    logLevel: 'warning',
    banner: {
      js: "import{createRequire as requireFor}from'node:module';const require=requireFor(import.meta.url);",
    },
  });
  const { status } = spawnSync(process.execPath, [outfile, ...rest], {
    cwd: root,
    stdio: 'inherit',
  });
  process.exitCode = status ?? 1;
} finally {
  rmSync(folder, { recursive: true, force: true });
}
