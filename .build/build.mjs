// Bundles the program and its library face into dist/, with the types of the library and the
// licences of everything that is bundled.
import { spawnSync } from 'node:child_process';
import { mkdirSync, mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { dirname, join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { build, transform } from 'esbuild';

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
  // One bundled package could fetch what a figure links to; ours link to nothing.
  define: { fetch: 'undefined' },
  plugins: [
    { name: 'left out', setup: leaveOut },
    { name: 'when needed', setup: whenNeeded },
  ],
});

// Only ES modules can be split, but Node takes longer to start with them: the parts become CommonJS. What imports the
// library may be of either kind.
mkdirSync(join(root, 'dist'));
await Promise.all(
  outputFiles.map(async ({ path, text }) => {
    const whole = text.replace(/AT_ONCE\(import\(("[^"]+")\)\)/g, 'require($1)');
    if (whole.includes('AT_ONCE')) throw new Error(`${path} asks for a part that is not one`);
    const { code } = await transform(whole, {
      format: 'cjs',
      platform: 'node',
      target: 'node20',
      // Parts are required later on, too: to import one, Node would look through it for its exports first.
      supported: { 'dynamic-import': false },
    });
    writeFileSync(path, code);
  }),
);
writeFileSync(join(root, 'dist/package.json'), '{ "type": "commonjs" }\n');

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

/**
 * Leaves out what some packages ask for and pomary has no use for: `debug`, which prints for the
 * makers of a package where DEBUG is set, and `canvas`, which one package takes where it happens to be
 * installed, and which measures text in its own way; the form of that package for browsers does without.
 */
function leaveOut({ onResolve, onLoad }) {
  onResolve({ filter: /^debug$/ }, ({ path }) => ({ path, namespace: 'left-out' }));
  onLoad({ filter: /./, namespace: 'left-out' }, () => ({
    contents: 'module.exports = () => () => {};',
  }));
  const canvas = 'node_modules/vega-canvas/build/vega-canvas.browser.js';
  onResolve({ filter: /^vega-canvas$/ }, () => ({ path: join(root, canvas) }));
}

/**
 * What takes long to load and is seldom wanted becomes a part of its own and is loaded with its first use: the tables of
 * letters of string-width, and for a ledger without errors the schemas and the second reader of YAML. A promise of it
 * would not do for those who ask, but between parts that are CommonJS there is no need for one.
 */
function whenNeeded({ onResolve, onLoad }) {
  const late = [
    { path: /^string-width$/, from: /./, gives: 'default' },
    { path: /^yaml$/, from: /yaml-problems\.ts$/, gives: 'parseDocument', isCommonJs: true },
  ];
  for (const { path, from, gives, isCommonJs } of late) {
    onResolve({ filter: path }, ({ path, importer, kind, resolveDir }) => {
      if (kind !== 'import-statement' || !from.test(importer)) return undefined;
      const what = path.startsWith('.') ? join(resolveDir, path) : path;
      const whole = `AT_ONCE(import(${JSON.stringify(what)}))${isCommonJs ? '.default' : ''}`;
      return { path: what, namespace: 'when-needed', pluginData: { gives, whole } };
    });
  }
  onLoad({ filter: /./, namespace: 'when-needed' }, ({ pluginData: { gives, whole } }) => ({
    contents: `const late = (...given) => ${whole}.${gives}(...given);
export { late as ${gives} };`,
    resolveDir: root,
  }));
}

/** Files whose code went into the bundle, by the folder of their package. */
function bundledPackages({ inputs }) {
  const files = new Map();
  for (const path of Object.keys(inputs).sort()) {
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
  const comments = files.flatMap(
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
