// Bundles the program and its library face into dist/, with the types of the library and the
// licences of everything that is bundled.
import { spawnSync } from 'node:child_process';
import { mkdirSync, mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { dirname, join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { build } from 'esbuild';

const root = fileURLToPath(new URL('..', import.meta.url));
rmSync(join(root, 'dist'), { recursive: true, force: true });

const { metafile, outputFiles } = await build({
  absWorkingDir: root,
  entryPoints: ['src/main.ts', 'src/index.ts'],
  outdir: 'dist',
  bundle: true,
  // Commands and renderers become files of their own, loaded when they are called.
  splitting: true,
  chunkNames: 'part-[hash]',
  platform: 'node',
  format: 'esm',
  target: 'node20',
  legalComments: 'none',
  logLevel: 'warning',
  metafile: true,
  write: false,
});

// Some packages are CommonJS and call require for what Node brings along: esbuild's stand-in for it looks for one here.
const REQUIRE =
  "import{createRequire}from'node:module';const require=createRequire(import.meta.url);\n";
mkdirSync(join(root, 'dist'));
for (const { path, text } of outputFiles) {
  writeFileSync(path, text.includes('typeof require') ? REQUIRE + text : text);
}

writeFileSync(join(root, 'dist/THIRD-PARTY.txt'), notices(bundledPackages(metafile)));
writeTypes('index.d.ts');

/** The declarations that the library's entry leads to, and no others, in dist/types. */
function writeTypes(entry) {
  const made = mkdtempSync(join(tmpdir(), 'pomary-types-'));
  try {
    const tsc = join(root, 'node_modules/typescript/bin/tsc');
    const args = ['--project', join(root, '.build/types.json'), '--outDir', made];
    const { status } = spawnSync(process.execPath, [tsc, ...args], { stdio: 'inherit' });
    if (status !== 0) throw new Error('the types of the library could not be made');
    const waiting = [entry];
    const seen = new Set();
    for (const path of waiting) {
      if (seen.has(path)) continue;
      seen.add(path);
      // The sources name each other by .ts, which stands for .js once they are built.
      const text = readFileSync(join(made, path), 'utf8').replace(
        /((?:from|import)\s*\(?\s*['"]\.[^'"]*)\.ts(?=['"])/g,
        (_, before) => {
          waiting.push(join(dirname(path), `${before.split(/['"]/)[1]}.d.ts`));
          return `${before}.js`;
        },
      );
      const target = join(root, 'dist/types', path);
      mkdirSync(dirname(target), { recursive: true });
      writeFileSync(target, text);
    }
  } finally {
    rmSync(made, { recursive: true, force: true });
  }
}

/** Folders of the packages whose code went into the bundle. */
function bundledPackages({ inputs }) {
  const folders = Object.keys(inputs).flatMap((path) => {
    const found = /^(.*node_modules\/(?:@[^/]+\/)?[^/]+)\//.exec(path);
    return found === null ? [] : [found[1]];
  });
  return [...new Set(folders)].sort();
}

/** Name, version, licence and the licence's own text of each; equal texts are printed once. */
function notices(folders) {
  const byText = new Map();
  for (const folder of folders) {
    const { name, version, license } = JSON.parse(readFileSync(join(root, folder, 'package.json')));
    const files = readdirSync(join(root, folder)).filter((file) =>
      /^(licen[cs]e|notice)/i.test(file),
    );
    const text = files
      .map((file) => readFileSync(join(root, folder, file), 'utf8').trim())
      .join('\n\n');
    const title = `${name} ${version} (${license})`;
    byText.set(text, [...(byText.get(text) ?? []), title]);
  }
  const parts = [...byText].map(([text, titles]) => `${titles.join('\n')}\n\n${text}\n`);
  return `pomary is bundled with these packages.\n\n${parts.join(`\n${'-'.repeat(80)}\n\n`)}`;
}
