import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { layFiles } from '../support/lay-files.ts';
import { runCommand } from '../support/run-command.ts';
import { SMALL_EXAMPLE } from '../support/small-example.ts';

// What whoever changes the program runs, and what is shipped, are the same modules: they must print the same.

const SOURCE = fileURLToPath(new URL('../../src/main.ts', import.meta.url));
const BUILT = fileURLToPath(new URL('../../bin/pomary.js', import.meta.url));
/** Whether this Node runs TypeScript as it stands; 20 does not. */
const runsTypes = 'typescript' in process.features && process.features.typescript !== false;

let folder = '';
beforeAll(() => {
  folder = mkdtempSync(join(tmpdir(), 'pomary-source-'));
});
afterAll(() => rmSync(folder, { recursive: true, force: true }));

describe.skipIf(!runsTypes)('the sources, run as they stand', () => {
  const both = (root: string, argv: readonly string[]) =>
    [SOURCE, BUILT].map((script) =>
      // Node 22 warns that this is new to it.
      runCommand([process.execPath, script, ...argv], {
        cwd: root,
        env: { NODE_NO_WARNINGS: '1' },
      }),
    );

  it('print what the built program prints', () => {
    const root = join(folder, 'sound');
    layFiles(root, SMALL_EXAMPLE);
    for (const argv of [['weights'], ['rank', '--format', 'json'], ['pick', '--help']]) {
      const [source, built] = both(root, argv);
      expect(source).toMatchObject({ status: 0, err: '' });
      expect(source).toEqual(built);
    }
  });

  it('load late what only errors and wide letters want', () => {
    const root = join(folder, 'broken');
    const cultivars = `${SMALL_EXAMPLE['cultivars.yaml']}wide: { name: 無花果, bears: unheard }\n`;
    layFiles(root, {
      ...SMALL_EXAMPLE,
      'cultivars.yaml': cultivars,
      'seasons/2025.yaml': 'season: 2025\npicks: [\ncounts: {\n',
    });
    const [source, built] = both(root, ['check']);
    expect(source?.out).toContain('error yaml-syntax');
    expect(source?.out).toContain('無花果');
    expect(source).toEqual(built);
  });
});
