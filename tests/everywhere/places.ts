import { mkdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { linesAdded } from '../support/lines-added.ts';
import type { Checks } from './checks.ts';
import type { Column } from './column.ts';
import type { Condition } from './condition.ts';
import { seasonText, smallLedger } from './ledgers.ts';
import { sameAsPlain, sameRan } from './reading.ts';

// Letters with marks may be one character (NFC) or two (NFD); a disk keeps them apart.
const NAME = `Mère's "fig" läger $HOME (ж) `;
const PICK = ['pick', 'G3', 'early', '--on', '2026-08-01', '--weights', '50'];
const PICKED = '  - { on: 2026-08-01, tree: G3, crop: early, weights: [50] }';

function underName(form: 'NFC' | 'NFD'): Condition {
  const name = (text: string) => text.normalize(form);
  return {
    name: `spaces, quotes and ${form} letters in the path`,
    check: async (column, checks) => {
      const place = join(column.folder, `${form} ${name(NAME)}`);
      const ledger = smallLedger(column, `${form} ${name(NAME)}/${name('läger')}`);
      await sameAsPlain(column, checks, { cwd: ledger });
      const named = ['--ledger', name('läger')];
      const wanted = await column.plain(ledger, ['yield']);
      sameRan(
        checks,
        'named from outside',
        await column.pomary(place, [...named, 'yield']),
        wanted,
      );
      const none = await column.pomary(place, ['--ledger', name('lägerx'), 'check']);
      checks.has('the path that is not there', none.err, name('lägerx'));
      await changedInGit(column, checks, place, ledger);
      await recordsInto(column, checks, ledger, ledger);
      await writesTo(column, checks, ledger, name(`täble "1"`));
    },
  };
}

/** The ledger is not the top of its repository, and git quotes such paths. */
async function changedInGit(
  column: Column,
  checks: Checks,
  place: string,
  ledger: string,
): Promise<void> {
  const commit = 'git -c user.name=x -c user.email=x@example.org commit -qm begun';
  const begun = await column.shell(place, `git init -q && git add . && ${commit}`);
  if (begun.status === 127) return;
  await column.pomary(ledger, ['count', 'G3', 'main', '--on', '2026-08-11', '--fruit', '9']);
  const { status, out, err } = await column.pomary(ledger, ['changes', '--since', 'HEAD']);
  checks.that('changes --since HEAD', status === 0, begun.err + err);
  checks.has('the count that was added', out, '2026-08-11');
}

async function recordsInto(
  column: Column,
  checks: Checks,
  ledger: string,
  cwd: string,
  env: Readonly<Record<string, string>> = {},
): Promise<void> {
  const before = seasonText(ledger);
  const ran = await column.pomary(cwd, PICK, { env });
  checks.that('pick', ran.status === 0 && ran.err === '', ran.err);
  checks.same('one line more', linesAdded(before, seasonText(ledger)).join('\n'), PICKED);
}

async function writesTo(
  column: Column,
  checks: Checks,
  ledger: string,
  name: string,
): Promise<void> {
  const wanted = await column.pomary(ledger, ['yield']);
  const ran = await column.pomary(ledger, ['yield', '--output', name]);
  checks.that('--output', ran.status === 0, ran.err);
  checks.same('a file of such a name', readFileSync(join(ledger, name), 'utf8'), wanted.out);
  const figures = `${name} of it`;
  mkdirSync(join(ledger, figures));
  const post = await column.pomary(ledger, ['post', '--figures', figures]);
  checks.that('figures in such a folder', post.status === 0 && post.err === '', post.err);
}

export const NFC_PATH = underName('NFC');
export const NFD_PATH = underName('NFD');

export const BELOW: Condition = {
  name: 'a working folder below the ledger',
  check: async (column, checks) => {
    const ledger = smallLedger(column, 'above');
    const below = join(ledger, 'photos/2026/of july');
    mkdirSync(below, { recursive: true });
    await sameAsPlain(column, checks, { cwd: join(ledger, 'seasons') }, 'some');
    await sameAsPlain(column, checks, { cwd: below });
    await recordsInto(column, checks, ledger, below);
    const ran = await column.pomary(below, ['yield', '--output', 'here.txt']);
    checks.that('--output lands where one stands', ran.status === 0, ran.err);
    checks.has('the file', readFileSync(join(below, 'here.txt'), 'utf8'), 'Yield by tree');
  },
};

export const HOMES: Condition = {
  name: 'HOME and TMPDIR with spaces, missing or read-only',
  check: async (column, checks) => {
    const home = join(column.folder, 'a home of "mine"');
    mkdirSync(home);
    await sameAsPlain(column, checks, { env: { HOME: home, TMPDIR: home, XDG_CONFIG_HOME: home } });
    for (const path of ['/nowhere', '/proc', '']) {
      await sameAsPlain(column, checks, { env: { HOME: path, TMPDIR: path } }, 'some');
    }
    const ledger = smallLedger(column, 'recorded away from home');
    const env = { HOME: '/nowhere', TMPDIR: '/nowhere' };
    await recordsInto(column, checks, ledger, ledger, env);
  },
};
