import { chmodSync, readdirSync, statSync } from 'node:fs';
import { join } from 'node:path';
import { onReadOnlyDisk } from '../support/namespaces.ts';
import { boundByPermissions } from '../support/other-account.ts';
import type { Ran } from '../support/run-command.ts';
import { CannotBeMade, type Checks } from './checks.ts';
import type { Condition } from './condition.ts';
import { filesIn, smallLedger } from './ledgers.ts';
import { sameAsPlain } from './reading.ts';

const EVENING = 'on 2026-08-01\npick G3 early 50\n';

/** Commands that would write, were it not for --dry-run or --check. */
const HARMLESS = [
  'pick G3 early --on 2026-08-01 --weights 50 --dry-run',
  'enter --dry-run',
  'tidy --dry-run',
  'init elsewhere --dry-run',
];

/** Commands that write into the ledger. */
const WRITING = [
  'pick G3 early --on 2026-08-01 --weights 50',
  'pick G3 early --on 2024-08-01 --weights 50',
  'count G3 main --on 2026-08-11 --fruit 17 --branches 8',
  'taste G3 main --on 2026-09-12 --taster joss --score flavour=7',
  'enter',
  'tidy',
  'schema --write',
  'yield --output yield.txt',
  'post --date 2026-09-05 --output post.md',
  'export --output tables',
  'lineup --on 2026-09-05 --sheet sheet.md',
  'init another',
];

function readOnly(
  name: string,
  reason: string,
  lock: (ledger: string) => readonly string[],
): Condition {
  return {
    name,
    check: async (column, checks) => {
      const ledger = smallLedger(column, name);
      const change = { before: lock(ledger), input: EVENING };
      const trial = await column.run(['node', '--version'], { cwd: ledger, ...change });
      if (trial.status !== 0) throw new CannotBeMade(`this Node cannot be run so: ${trial.err}`);
      const before = JSON.stringify(filesIn(ledger));
      await sameAsPlain(column, checks, { cwd: ledger, ...change });
      const writable = smallLedger(column, `${name}, but writable`);
      for (const line of HARMLESS) {
        const { status, out } = await column.pomary(ledger, line.split(' '), change);
        const wanted = await column.pomary(writable, line.split(' '), { input: EVENING });
        checks.same(line, `${out}${status}`, `${wanted.out}${wanted.status}`);
      }
      for (const line of WRITING) {
        const ran = await column.pomary(ledger, line.split(' '), change);
        refused(checks, line, reason, ran);
      }
      checks.that('the ledger is as it was', JSON.stringify(filesIn(ledger)) === before);
    },
  };
}

function refused(checks: Checks, line: string, reason: string, { status, out, err }: Ran): void {
  checks.that(`status of ${line}`, status === 3, `${status} ${out} ${err}`);
  checks.has(line, err, new RegExp(`^pomary: cannot (?:use|write) .*: .*${reason}`, 'm'));
  if (/^(?:pick|count|taste|enter)/.test(line)) {
    checks.has(`${line}: the entry is handed back`, err, 'These entries were not written:\n');
  }
}

export const READ_ONLY_FILES = readOnly(
  'files that may not be written',
  'this account may not',
  (ledger) => {
    const before = boundByPermissions();
    if (before === undefined) {
      throw new CannotBeMade('permissions do not bind root, and there is no other account');
    }
    withdraw(ledger);
    return before;
  },
);

function withdraw(path: string): void {
  const isFolder = statSync(path).isDirectory();
  if (isFolder) for (const name of readdirSync(path)) withdraw(join(path, name));
  chmodSync(path, isFolder ? 0o555 : 0o444);
}

export const READ_ONLY_DISK = readOnly(
  'a disk that can only be read',
  'the disk can only be read',
  () => {
    const before = onReadOnlyDisk();
    if (before === undefined) throw new CannotBeMade('unshare and mount do not work here');
    return before;
  },
);
