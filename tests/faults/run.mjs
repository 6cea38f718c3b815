// Ill-treats the writing of entries, and prints what became of them: node tests/faults/run.mjs [NAME ...]

import { mkdtempSync, rmSync } from 'node:fs';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { build } from 'esbuild';

const here = fileURLToPath(new URL('.', import.meta.url));
// Inside the project, so that its packages are found.
const folder = mkdtempSync(join(here, '..', '..', 'node_modules', '.faults-'));
try {
  const outfile = join(folder, 'table.mjs');
  await build({
    stdin: {
      contents:
        "export * from './fault-table.ts'; export * from './outcome.ts'; export * from './scene.ts';",
      resolveDir: here,
    },
    bundle: true,
    packages: 'external',
    platform: 'node',
    format: 'esm',
    outfile,
    define: { 'import.meta.url': JSON.stringify(new URL('scene.ts', import.meta.url).href) },
  });
  const { FAULTS, FULL, makeScene } = await import(outfile);
  let failed = 0;
  const asked = process.argv.slice(2);
  for (const fault of FAULTS) {
    if (asked.length > 0 && !asked.includes(fault.name)) continue;
    const scene = await makeScene();
    const began = Date.now();
    const { fault: name, counts, problems, skipped } = await fault(scene, FULL);
    const figures = Object.entries(counts).map(([key, value]) => `${key} ${value}`);
    const seconds = ((Date.now() - began) / 1000).toFixed(1);
    const verdict =
      skipped === undefined ? (problems.length === 0 ? 'sound' : 'BROKEN') : `skipped: ${skipped}`;
    console.log(`${name}: ${figures.join(', ')} - ${verdict} (${seconds} s)`);
    for (const problem of problems.slice(0, 10)) console.log(`    ${problem}`);
    failed += problems.length;
    scene.remove();
  }
  process.exitCode = failed === 0 ? 0 : 1;
} finally {
  rmSync(folder, { recursive: true, force: true });
}
