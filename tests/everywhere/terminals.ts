import { spawnSync } from 'node:child_process';
import { stripVTControlCharacters } from 'node:util';
import type { Ran } from '../support/run-command.ts';
import { CannotBeMade, type Checks } from './checks.ts';
import type { Column } from './column.ts';
import type { Condition } from './condition.ts';
import { exampleLedger, plainLedger } from './ledgers.ts';
import { DAY, PAGES, sameAsPlain, sameRan, TABLES } from './reading.ts';

/** Text for people: all that looks at the terminal. */
const TEXTS = [
  ...TABLES,
  ['changes'],
  ['card', 'Amber Lantern'],
  ['day', '2026-07-29'],
  ['lineup', '--on', DAY],
  ['sheet', '--on', DAY],
  ['check'],
];

const CSV = TABLES.map((words) => [...words, '--format', 'csv']);

// biome-ignore lint/suspicious/noControlCharactersInRegex: colours begin with one
const COLOUR = /\u001b\[[\d;]*m/;

export const NO_COLOUR: Condition = {
  name: 'TERM=dumb, NO_COLOR=1',
  check: async (column, checks) => {
    await sameAsPlain(column, checks, { env: { TERM: 'dumb' } }, 'some');
    await sameAsPlain(column, checks, { env: { NO_COLOR: '1', FORCE_COLOR: '3' } });
    await sameAsPlain(
      column,
      checks,
      { env: { TERM: 'xterm-256color', COLORTERM: 'truecolor' } },
      'some',
    );
  },
};

export const COLOUR_FORCED: Condition = {
  name: 'FORCE_COLOR=1',
  check: async (column, checks) => {
    const ledger = plainLedger(column);
    const env = { FORCE_COLOR: '1' };
    const texts = TEXTS.map((argv) => argv.join(' '));
    const pages = PAGES.filter((argv) => !texts.includes(argv.join(' ')));
    for (const argv of [...TEXTS, ...pages, ...CSV]) {
      const what = argv.join(' ');
      const ran = await column.pomary(ledger, argv, { env });
      const isText = texts.includes(what);
      checks.that(`${what} has colour only as text`, COLOUR.test(ran.out) === isText);
      const out = isText ? stripVTControlCharacters(ran.out) : ran.out;
      sameRan(checks, what, { ...ran, out }, await column.plain(ledger, argv));
    }
  },
};

export const NO_UTF8: Condition = {
  name: 'LC_ALL=C, which has no UTF-8',
  check: async (column, checks) => {
    const ledger = plainLedger(column);
    // So wide that nothing is left out or cut short.
    const wide = { COLUMNS: '400' };
    const env = { LC_ALL: 'C' };
    for (const argv of TEXTS) {
      const { status, out, err } = await column.pomary(ledger, argv, { env: { ...env, ...wide } });
      const wanted = await column.pomary(ledger, argv, { env: wide });
      checks.that(argv.join(' '), status === wanted.status && err === wanted.err, err);
      const strange = /.*[^\n\f -~].*/.exec(out)?.[0];
      checks.that(`${argv.join(' ')}: ASCII alone`, strange === undefined, strange);
      checks.same(`${argv.join(' ')}: the same words`, wordsOf(out), wordsOf(wanted.out));
    }
    await sameAsCsv(column, checks, env);
  },
};

/** In alphabetical order, since heads wrap in another way; without what stands for dashes and dots. */
function wordsOf(text: string): string {
  const words = text.match(/[A-Za-z0-9]+/g) ?? [];
  return words
    .filter((word) => word !== 'to' && word !== 'o')
    .sort()
    .join('\n');
}

export const WIDTHS: Condition = {
  name: 'COLUMNS=40, 80, 200',
  check: async (column, checks) => {
    const ledger = exampleLedger(column);
    for (const [columns, texts] of [
      // Pages keep the columns that say what a row is, and check keeps a place on one line.
      ['40', TABLES],
      ['80', TEXTS],
      ['200', TEXTS],
    ] as const) {
      for (const argv of texts) {
        const { status, out } = await column.pomary(ledger, argv, { env: { COLUMNS: columns } });
        const long = out.split('\n').find((line) => [...line].length > Number(columns));
        const what = `${argv.join(' ')} in ${columns} columns`;
        checks.that(what, status === 0 && long === undefined, long);
      }
    }
    await sameAsCsv(column, checks, { COLUMNS: '40' });
  },
};

/** What is no text for people stays as it is. */
async function sameAsCsv(
  column: Column,
  checks: Checks,
  env: Readonly<Record<string, string>>,
): Promise<void> {
  for (const argv of CSV) {
    const wanted = await column.plain(plainLedger(column), argv);
    sameRan(
      checks,
      argv.join(' '),
      await column.pomary(plainLedger(column), argv, { env }),
      wanted,
    );
  }
}

/** A real terminal, of 100 columns. */
export const AT_A_TERMINAL: Condition = {
  name: 'at a terminal',
  check: async (column, checks) => {
    if (spawnSync('script', ['-qec', 'true', '/dev/null']).status !== 0) {
      throw new CannotBeMade('there is no script command to make a terminal');
    }
    const ledger = exampleLedger(column);
    const shown = async (line: string, env: Readonly<Record<string, string>>): Promise<Ran> => {
      const ran = await column.run(['script', '-qec', `stty cols 100; ${line}`, '/dev/null'], {
        cwd: ledger,
        env: { SHELL: '/bin/sh', ...env },
      });
      return { ...ran, out: ran.out.replaceAll('\r\n', '\n') };
    };
    const wanted = await column.pomary(ledger, ['yield'], { env: { COLUMNS: '100' } });
    for (const [env, coloured] of [
      [{ TERM: 'xterm-256color' }, true],
      [{ TERM: 'xterm-256color', NO_COLOR: '1' }, false],
      [{ TERM: 'dumb' }, false],
    ] as const) {
      const { status, out } = await shown('pomary yield', env);
      const name = Object.entries(env).join(' ');
      checks.that(`${name}: done`, status === 0);
      checks.that(`${name}: colour`, COLOUR.test(out) === coloured);
      checks.same(`${name}: words`, stripVTControlCharacters(out), wanted.out);
    }
  },
};
