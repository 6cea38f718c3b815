// Runs the packed program under each Node that is named, in every condition, and prints a table:
// npm run everywhere -- [--only WORDS] [NODE...]

import { chmodSync, mkdtempSync, realpathSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join, resolve } from 'node:path';
import { parseArgs } from 'node:util';
import { CannotBeMade, Checks } from './checks.ts';
import { Column } from './column.ts';
import type { Condition } from './condition.ts';
import { CONDITIONS } from './condition-table.ts';
import { installProgram } from './installed-program.ts';

const { values, positionals } = parseArgs({
  options: { only: { type: 'string', default: '' } },
  allowPositionals: true,
});
const nodes = positionals.length === 0 ? [process.execPath] : positionals;

const say = (text: string) => process.stdout.write(`${text}\n`);
const footnotes: string[] = [];
let failed = false;

/** What the table says of one condition under one Node; all that failed goes into the footnotes. */
async function cell(condition: Condition, column: Column, first: Column): Promise<string> {
  const checks = new Checks();
  const note = (what: string) => footnotes.push(`${column.version}, ${condition.name}: ${what}`);
  try {
    await condition.check(column, checks, first);
  } catch (thrown) {
    if (thrown instanceof CannotBeMade) {
      note(`skipped, since ${thrown.message}`);
      return 'skipped';
    }
    checks.failures.push(String(thrown));
  }
  for (const failure of checks.failures) note(failure);
  if (checks.failures.length === 0) return String(checks.passed);
  failed = true;
  return `FAILED: ${(checks.failures[0] ?? '').slice(0, 60)}`;
}

const row = (words: readonly string[]) => say(`| ${words.join(' | ').replaceAll('\n', ' ')} |`);
const scratch = realpathSync(mkdtempSync(join(tmpdir(), 'pomary-everywhere-')));
// However it ends: by its end, by Ctrl-C or by a fault.
process.once('exit', () => rmSync(scratch, { recursive: true, force: true }));
for (const signal of ['SIGINT', 'SIGTERM']) process.once(signal, () => process.exit(1));
// Another account must be able to enter it.
chmodSync(scratch, 0o755);
const installed = installProgram(process.cwd(), scratch);
const columns = nodes.map((node) => new Column(realpathSync(resolve(node)), installed, scratch));
const [first] = columns;
if (first === undefined) throw new Error('name a Node');
row(['condition', ...columns.map(({ version }) => version)]);
row(['---', ...columns.map(() => '---')]);
for (const condition of CONDITIONS.filter(({ name }) => name.includes(values.only))) {
  const cells = columns.map((column) => cell(condition, column, first));
  row([condition.name, ...(await Promise.all(cells))]);
}
if (footnotes.length > 0) say(`\n${footnotes.map((note) => `- ${note}`).join('\n')}`);
process.exitCode = failed ? 1 : 0;
