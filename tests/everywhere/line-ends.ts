import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { linesAdded } from '../support/lines-added.ts';
import type { Checks } from './checks.ts';
import type { Column } from './column.ts';
import type { Condition } from './condition.ts';
import { filesIn, seasonText, smallLedger } from './ledgers.ts';
import { sameAsPlain } from './reading.ts';

const MARK = '\ufeff';
const ENTERED = 'on 2026-08-01\npick G3 early 50 47.5\ncount G7 main 20 on 7\ngirth Y1 11.5\n';
const IMPORTED = 'date,tree,crop,fruit,weight (g)\n2026-09-14,Y1,main,1,44\n';

/** As other systems and editors save text. What is typed in comes the same way. */
function saved(how: string, as: (text: string) => string): Condition {
  return {
    name: `files saved with ${how}`,
    check: async (column, checks) => {
      const ledger = smallLedger(column, `saved with ${how}`, as);
      await sameAsPlain(column, checks, { cwd: ledger });
      await recorded(column, checks, ledger, as);
      await tidied(column, checks, ledger);
    },
  };
}

async function recorded(
  column: Column,
  checks: Checks,
  ledger: string,
  as: (text: string) => string,
): Promise<void> {
  const before = seasonText(ledger);
  const others = otherFiles(ledger);
  for (const [argv, input] of [
    [['enter'], ENTERED],
    [['import', '-', '--kind', 'picks'], IMPORTED],
  ] as const) {
    const ran = await column.pomary(ledger, argv, { input: as(input) });
    checks.that(argv.join(' '), ran.status === 0 && ran.err === '', ran.err);
  }
  const added = linesAdded(before, seasonText(ledger));
  checks.that('four lines are added, and none is changed', added.length === 4, added.join('\n'));
  checks.same('line ends', endsIn(seasonText(ledger)), endsIn(before));
  checks.that('other files stay as they are', otherFiles(ledger) === others);
}

async function tidied(column: Column, checks: Checks, ledger: string): Promise<void> {
  const past = () => readFileSync(join(ledger, 'seasons/2025.yaml'), 'utf8');
  const before = past();
  const { out: table } = await column.pomary(ledger, ['yield']);
  const { status, err } = await column.pomary(ledger, ['tidy']);
  checks.that('tidy', status === 0, err);
  checks.that('tidy had something to do', past() !== before);
  checks.same('line ends of what is tidy', endsIn(past()), endsIn(before));
  checks.that('the mark at the start', past().startsWith(MARK) === before.startsWith(MARK));
  const again = await column.pomary(ledger, ['yield']);
  checks.same('figures of what is tidy', again.out, table);
}

/** All but the season that is written, and what the program keeps of it from before. */
function otherFiles(ledger: string): string {
  const others = Object.entries(filesIn(ledger)).filter(
    ([path]) => path !== 'seasons/2026.yaml' && !path.startsWith('.pomary'),
  );
  return JSON.stringify(others);
}

/** The kinds of line end that a text has. */
function endsIn(text: string): string {
  return JSON.stringify([...new Set(text.match(/\r?\n|\r/g))]);
}

const crlf = (text: string) => text.replaceAll('\n', '\r\n');

export const WINDOWS_LINES = saved('Windows line ends', crlf);
export const MARKED = saved('a byte order mark', (text) => MARK + text);
export const MARKED_WINDOWS_LINES = saved('both', (text) => MARK + crlf(text));
