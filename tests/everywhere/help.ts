import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import type { Condition } from './condition.ts';
import { plainLedger } from './ledgers.ts';

/** What the program says about itself, with no ledger near. */
export const HELP: Condition = {
  name: 'version, help, completions, manual',
  check: async (column, checks) => {
    const done = async (...argv: readonly string[]) => {
      const ran = await column.pomary(column.folder, argv);
      checks.that(argv.join(' '), ran.status === 0 && ran.err === '', ran.err);
      return ran.out;
    };
    const home = join(column.installed, 'node_modules/pomary/package.json');
    const { version } = JSON.parse(readFileSync(home, 'utf8')) as { version: string };
    checks.same('--version', await done('--version'), `${version}\n`);
    checks.same('-V', await done('-V'), `${version}\n`);
    const help = await done('--help');
    checks.same('no words at all', await done(), help);
    const commands = [...help.matchAll(/^ {2}([a-z]+) [^\n]* {2}/gm)].map(([, name = '']) => name);
    checks.that('the help lists the commands', commands.length > 25, commands.join(' '));
    for (const name of commands.filter((name) => name !== 'help')) {
      checks.has(`${name} --help`, await done(name, '--help'), `Usage: pomary ${name}`);
    }
    const manual = await done('manual');
    for (const name of commands) checks.has('the manual', manual, name);
    for (const shell of ['bash', 'zsh', 'fish']) {
      checks.has('completion', await done('completion', shell), 'pomary');
    }
    const sourced = await column.shell(
      plainLedger(column),
      `bash -c 'eval "$(pomary completion bash)" && complete -p pomary'`,
    );
    checks.that('bash reads the completion', sourced.status === 0, sourced.err);
  },
};
