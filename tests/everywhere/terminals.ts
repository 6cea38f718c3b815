import { spawnSync } from 'node:child_process';
import type { Ran } from '../support/run-command.ts';
import { CannotBeMade } from './checks.ts';
import type { Condition } from './condition.ts';
import { exampleLedger, plainLedger } from './ledgers.ts';
import { PAGES, sameAsPlain, sameRan, TABLES } from './reading.ts';

/** Text for people: all that looks at the terminal. */
const TEXTS = [...TABLES, ['changes'], ['card', 'Amber Lantern'], ['check']];

// biome-ignore lint/suspicious/noControlCharactersInRegex: colours begin with one
const COLOUR = /\u001b\[[\d;]*m/g;

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
    for (const argv of TEXTS) {
      const { out, ...rest } = await column.pomary(ledger, argv, { env });
      checks.has(`${argv.join(' ')} in colour`, out, COLOUR);
      sameRan(
        checks,
        argv.join(' '),
        { out: out.replace(COLOUR, ''), ...rest },
        await column.plain(ledger, argv),
      );
    }
    for (const argv of [...PAGES, ...TABLES.map((words) => [...words, '--format', 'csv'])]) {
      if (TEXTS.some((text) => text.join(' ') === argv.join(' '))) continue;
      sameRan(
        checks,
        argv.join(' '),
        await column.pomary(ledger, argv, { env }),
        await column.plain(ledger, argv),
      );
    }
  },
};

export const NO_UTF8: Condition = {
  name: 'LC_ALL=C, which has no UTF-8',
  check: async (column, checks) => {
    const ledger = plainLedger(column);
    const env = { LC_ALL: 'C' };
    for (const argv of TEXTS) {
      const { status, out, err } = await column.pomary(ledger, argv, { env });
      const wanted = await column.plain(ledger, argv);
      checks.that(argv.join(' '), status === wanted.status && err === wanted.err, err);
      const strange = /.*[^\n -~].*/.exec(out)?.[0];
      checks.that(`${argv.join(' ')}: ASCII alone`, strange === undefined, strange);
      checks.same(`${argv.join(' ')}: the same words`, wordsOf(out), wordsOf(wanted.out));
    }
    for (const argv of TABLES.map((words) => [...words, '--format', 'csv'])) {
      sameRan(
        checks,
        argv.join(' '),
        await column.pomary(ledger, argv, { env }),
        await column.plain(ledger, argv),
      );
    }
  },
};

function wordsOf(text: string): string {
  return (text.match(/[A-Za-z0-9]+/g) ?? []).join(' ');
}

export const WIDTHS: Condition = {
  name: 'COLUMNS=40, 80, 200',
  check: async (column, checks) => {
    const ledger = exampleLedger(column);
    for (const columns of ['40', '80', '200']) {
      for (const argv of TEXTS) {
        const { status, out } = await column.pomary(ledger, argv, { env: { COLUMNS: columns } });
        const long = out.split('\n').find((line) => [...line].length > Number(columns));
        checks.that(
          `${argv.join(' ')} in ${columns} columns`,
          status === 0 && long === undefined,
          long,
        );
      }
      await sameAsPlain(column, checks, { env: { COLUMNS: columns } }, 'some');
    }
  },
};

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
      COLOUR.lastIndex = 0;
      checks.same(`${name}: words`, out.replace(COLOUR, ''), wanted.out);
    }
  },
};
