// Bundles the program and its library face into dist/, with the types of the library and the
// licences of everything that is bundled.
import { spawnSync } from 'node:child_process';
import {
  copyFileSync,
  mkdirSync,
  mkdtempSync,
  readdirSync,
  readFileSync,
  rmSync,
  writeFileSync,
} from 'node:fs';
import { tmpdir } from 'node:os';
import { dirname, join, relative } from 'node:path';
import { fileURLToPath } from 'node:url';
import { build, transform } from 'esbuild';

const root = fileURLToPath(new URL('..', import.meta.url));
rmSync(join(root, 'dist'), { recursive: true, force: true });

/** What src/source/late.ts loads with its first use. */
const LATE = ['string-width', 'yaml'];

/** What src/host/own-file.ts reads: where `imports` in package.json leads, and what it is called in dist/. */
const OWN = Object.entries({
  renderer: 'renderer.wasm',
  'font-regular': 'font-regular.ttf',
  'font-bold': 'font-bold.ttf',
}).map(([name, file]) => ({ name, file, from: fileURLToPath(import.meta.resolve(`#${name}`)) }));

const { metafile, outputFiles } = await build({
  absWorkingDir: root,
  entryPoints: ['src/main.ts', 'src/index.ts', ...LATE.map((name) => `.build/late/${name}.js`)],
  entryNames: '[name]',
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
  // One bundled package could fetch what a figure links to; ours link to nothing.
  define: { fetch: 'undefined' },
  alias: {
    debug: './.build/no-debug.cjs',
    // Its form for browsers does without a package that measures text in its own way where it happens to be installed.
    'vega-canvas': './node_modules/vega-canvas/build/vega-canvas.browser.js',
  },
});

// Only ES modules can be split, but Node takes longer to start with them: the parts become CommonJS. What imports the
// library may be of either kind.
mkdirSync(join(root, 'dist'));
await Promise.all(
  outputFiles.map(async ({ path, text }) => {
    const { code } = await transform(text, {
      format: 'cjs',
      platform: 'node',
      target: 'node20',
      define: { 'import.meta.url': '__filename' },
      // Parts are required later on, too: to import one, Node would look through it for its exports first.
      supported: { 'dynamic-import': false },
    });
    writeFileSync(path, code);
  }),
);
for (const { from, file } of OWN) copyFileSync(from, join(root, 'dist', file));
const imports = Object.fromEntries([
  ...LATE.map((name) => [`#${name}`, `./${name}.js`]),
  ...OWN.map(({ name, file }) => [`#${name}`, `./${file}`]),
]);
writeFileSync(join(root, 'dist/package.json'), JSON.stringify({ type: 'commonjs', imports }));

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

/** Files whose code went into the bundle, by the folder of their package. */
function bundledPackages({ inputs }) {
  const files = new Map();
  const own = OWN.map(({ from }) => relative(root, from).replaceAll('\\', '/'));
  for (const path of [...Object.keys(inputs), ...own].sort()) {
    const folder = /^.*node_modules\/(?:@[^/]+\/)?[^/]+(?=\/)/.exec(path)?.[0];
    if (folder !== undefined) files.set(folder, [...(files.get(folder) ?? []), path]);
  }
  return files;
}

/** Name, version, licence and the texts that must go along of each; equal texts are printed once. */
function notices(packages) {
  const byText = new Map();
  for (const [folder, files] of packages) {
    const { name, version, license } = JSON.parse(readFileSync(join(root, folder, 'package.json')));
    const licences = readdirSync(join(root, folder)).filter((file) =>
      /^(licen[cs]e|notice)/i.test(file),
    );
    const texts = licences.map((file) => readFileSync(join(root, folder, file), 'utf8').trim());
    // A package of one binary file tells nothing of what was compiled into it.
    if (name === '@resvg/resvg-wasm')
      texts.push(readFileSync(join(root, '.build/renderer-notices.txt'), 'utf8'));
    const title = `${name} ${version} (${license})`;
    for (const text of [texts.join('\n\n'), ...notesOfOthers(files)]) {
      byText.set(text, [...(byText.get(text) ?? []), title]);
    }
  }
  const parts = [...byText].map(([text, titles]) => `${titles.join('\n')}\n\n${text}\n`);
  return `pomary is bundled with these packages.\n\n${parts.join(`\n${'-'.repeat(80)}\n\n`)}`;
}

/** Copyright notices inside the files, of authors whose code the package took over: they ask to be kept. */
function notesOfOthers(files) {
  const scripts = files.filter((path) => /\.[cm]?js$/.test(path));
  const comments = scripts.flatMap(
    (path) => readFileSync(join(root, path), 'utf8').match(/\/\*[\s\S]*?\*\//g) ?? [],
  );
  const notes = comments
    .filter((comment) => /copyright/i.test(comment))
    .map((comment) => comment.replace(/^\/\*+|\*+\/$/g, '').replace(/^[ \t]*\* ?/gm, ''))
    // What stands before is the package's own licence.
    .map((comment) => comment.replace(/^[\s\S]*## Notice\n/, '').trim())
    .filter((comment) => !comment.startsWith('@license'));
  return [...new Set(notes)];
}
