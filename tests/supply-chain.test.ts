import { execFileSync } from 'node:child_process';
import { readFileSync } from 'node:fs';
import { builtinModules } from 'node:module';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { describe, expect, test } from 'vitest';

// What a user installs, and where it comes from. Needs a build, as the tests of the whole program do.

const ROOT = fileURLToPath(new URL('..', import.meta.url));
const read = (path: string) => readFileSync(join(ROOT, path), 'utf8');

interface Packed {
  readonly size: number;
  readonly unpackedSize: number;
  readonly files: readonly { readonly path: string }[];
}

describe('the packed package', () => {
  const KINDS = [
    /^package\.json$/,
    /^(?:README\.md|LICENSE)$/,
    /^bin\/(?:pomary\.js|package\.json)$/,
    /^dist\/package\.json$/,
    /^dist\/(?:main|index|string-width|yaml|part-[A-Z0-9]{8})\.js$/,
    /^dist\/types\/(?:[a-z-]+\/)*[a-z0-9-]+\.d\.ts$/,
    /^dist\/THIRD-PARTY\.txt$/,
    // What PNG is drawn with: one renderer for all machines, and a font, since a machine may have none.
    /^dist\/renderer\.wasm$/,
    /^dist\/font-(?:regular|bold)\.ttf$/,
    // The pages that the README links.
    /^src\/(?:[a-z]+\/)*(?:METHODS|MODEL)\.md$/,
  ];
  const [packed] = JSON.parse(
    execFileSync('npm', ['pack', '--dry-run', '--json', '--ignore-scripts'], {
      cwd: ROOT,
      encoding: 'utf8',
    }),
  ) as [Packed];
  const paths = packed.files.map(({ path }) => path);

  test('holds files of these kinds, at least one of each, and no other', () => {
    expect(paths.filter((path) => !KINDS.some((kind) => kind.test(path)))).toEqual([]);
    for (const kind of KINDS) expect(paths.some((path) => kind.test(path))).toBe(true);
  });

  test('is small: as a download and on the disk', () => {
    // Of which what PNG is drawn with takes 1.3 and 3.1 million.
    expect(packed.size).toBeLessThan(2_800_000);
    expect(packed.unpackedSize).toBeLessThan(9_300_000);
  });

  test('asks the network for nothing, and no package that may lie about', () => {
    // A module of Node with which one can reach the network, or load code by a name made up on the way.
    const ALLOWED = [
      ...['buffer', 'child_process', 'crypto', 'events', 'fs', 'fs/promises', 'module', 'os'],
      ...['path', 'process', 'readline', 'tty', 'util'],
    ];
    const scripts = paths.filter((path) => path.endsWith('.js'));
    // Names that lead to parts of the program itself.
    const { imports } = JSON.parse(read('dist/package.json')) as {
      readonly imports: Readonly<Record<string, string>>;
    };
    const LATE = new Set(Object.keys(imports));
    for (const [name, part] of Object.entries(imports)) {
      expect(name).toMatch(/^#[a-z-]+$/);
      expect(paths).toContain(part.replace(/^\.\//, 'dist/'));
    }
    const outside = scripts.flatMap((path) => {
      const text = read(path);
      return importedBy(text)
        .filter((name) => !name.startsWith('.') && !LATE.has(name))
        .map((name) => name.replace(/^node:/, ''))
        .filter((name) => !ALLOWED.includes(name))
        .map((name) => `${path} imports ${name}`);
    });
    expect(outside).toEqual([]);
    expect(ALLOWED.filter((name) => !builtinModules.includes(name))).toEqual([]);
    const BY_OTHER_WAYS =
      /\b(?:fetch|XMLHttpRequest|WebSocket|EventSource|getBuiltinModule|binding)\(/;
    expect(scripts.filter((path) => BY_OTHER_WAYS.test(read(path)))).toEqual([]);
  });
});

/** Names in import and require, where they begin a statement or are called. */
function importedBy(text: string): readonly string[] {
  const statements = /^(?:import|export)\b[^'"();]*["']([^"']+)["']/gm;
  const calls = /\b(?:import|(?:__)?require\d*)\(\s*["']([^"']+)["']/g;
  return [...text.matchAll(statements), ...text.matchAll(calls)].map(([, name = '']) => name);
}

describe('packages that are bundled', () => {
  const notices = read('dist/THIRD-PARTY.txt');
  const bundled = [...notices.matchAll(/^((?:@[a-z-]+\/)?[a-z0-9-]+) \d+\.\S+ \((.+)\)$/gm)].map(
    ([, name = '', licence = '']) => ({ name, licence }),
  );

  test('have a licence that lets them go along', () => {
    const FREE = ['MIT', 'ISC', 'BSD-3-Clause', 'Apache-2.0', 'Apache-2.0 AND BSL-1.0'];
    // These let others go along as they are, where it is told what they are and where their source is.
    const UNCHANGED = ['MPL-2.0', 'MIT AND OFL-1.1'];
    expect(bundled.length).toBeGreaterThan(20);
    expect(bundled.filter(({ licence }) => ![...FREE, ...UNCHANGED].includes(licence))).toEqual([]);
  });

  test('bring the notices of the authors whose code they took over', () => {
    for (const author of ['Sun Microsystems', 'John Maddock', 'Stephen L. Moshier', 'Esprima']) {
      expect(notices).toContain(author);
    }
    expect(notices).toContain('Boost Software License - Version 1.0');
    for (const licence of ['Mozilla Public', 'SIL OPEN FONT LICENSE Version 1.1', 'tiny-skia']) {
      expect(notices).toContain(licence);
    }
  });

  test('are told of in DEVELOPERS.md, each with its licence', () => {
    const table = [...read('DEVELOPERS.md').matchAll(/^\| ([^|]+) \| ([^|]+) \|/gm)].flatMap(
      ([, names = '', licence = '']) =>
        names.split(', ').map((name) => ({ name: name.replace(/ [\d.]+$/, ''), licence })),
    );
    const told = ({ name, licence }: { readonly name: string; readonly licence: string }) =>
      table.some(
        (row) =>
          row.licence === licence &&
          (row.name.endsWith('*') ? name.startsWith(row.name.slice(0, -1)) : row.name === name),
      );
    expect(bundled.filter((one) => !told(one))).toEqual([]);
  });
});

test('package-lock.json has a checksum of every package, and names no host', () => {
  const { packages } = JSON.parse(read('package-lock.json')) as {
    readonly packages: Readonly<Record<string, { integrity?: string; resolved?: string }>>;
  };
  const others = Object.entries(packages).filter(([path]) => path !== '');
  expect(others.length).toBeGreaterThan(100);
  for (const [path, { integrity, resolved }] of others) {
    expect({ path, integrity, resolved }).toEqual({
      path,
      integrity: expect.stringMatching(/^sha512-/),
      resolved: undefined,
    });
  }
});

test('the packages that have an install script are told not to run it', () => {
  const { allowScripts } = JSON.parse(read('package.json')) as {
    readonly allowScripts: Readonly<Record<string, boolean>>;
  };
  const { packages } = JSON.parse(read('package-lock.json')) as {
    readonly packages: Readonly<Record<string, { hasInstallScript?: boolean }>>;
  };
  const scripted = Object.entries(packages)
    .filter(([path, { hasInstallScript }]) => path !== '' && hasInstallScript === true)
    .map(([path]) => path.replace(/^.*node_modules\//, ''));
  expect(allowScripts).toEqual(Object.fromEntries(scripted.map((name) => [name, false])));
});
