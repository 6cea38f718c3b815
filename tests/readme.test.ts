import { spawnSync } from 'node:child_process';
import { readFileSync, writeFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { expect, test } from 'vitest';

// Every console block of the README is run in ledger-example/, 80 columns wide, and must print what
// it shows. `UPDATE_README=1 npm test` writes what is printed now; read the change before committing.

const ROOT = fileURLToPath(new URL('..', import.meta.url));
const BLOCK = /```console\n\$ pomary ([^\n]*)\n([\s\S]*?)```/g;

function printed(command: string): string {
  const { stdout, stderr } = spawnSync(
    process.execPath,
    [`${ROOT}/bin/pomary.js`, ...words(command)],
    {
      cwd: `${ROOT}/ledger-example`,
      env: { PATH: process.env['PATH'] ?? '', COLUMNS: '80', LANG: 'C.UTF-8' },
      encoding: 'utf8',
    },
  );
  return `${stdout}${stderr}`;
}

function words(command: string): readonly string[] {
  return [...command.matchAll(/"([^"]*)"|(\S+)/g)].map((found) => found[1] ?? found[2] ?? '');
}

const readme = readFileSync(`${ROOT}/README.md`, 'utf8');
const blocks = [...readme.matchAll(BLOCK)].map(([, command = '', output = '']) => ({
  command,
  output,
}));

if (process.env['UPDATE_README'] === '1') {
  const renewed = readme.replace(
    BLOCK,
    (_, command: string) => `\`\`\`console\n$ pomary ${command}\n${printed(command)}\`\`\``,
  );
  writeFileSync(`${ROOT}/README.md`, renewed);
}

test('the README shows some commands', () => {
  expect(blocks.length).toBeGreaterThanOrEqual(3);
});

test.skipIf(process.env['UPDATE_README'] === '1').each(blocks)(
  'pomary $command',
  ({ command, output }) => {
    expect(printed(command)).toBe(output);
  },
);
