import { execFileSync } from 'node:child_process';
import { mkdirSync, symlinkSync } from 'node:fs';
import { join } from 'node:path';
import { type Ran, runCommandAside, type Surroundings } from '../support/run-command.ts';

/** What is changed about a run. `before` are words that stand before the command, such as `unshare -n`. */
export interface Change extends Partial<Surroundings> {
  readonly before?: readonly string[];
}

/** One Node, with the installed program to run under it, and a folder of its own for ledgers. */
export class Column {
  readonly version: string;
  readonly folder: string;
  /** Where `node_modules/pomary` is. */
  readonly installed: string;
  readonly #path: string;
  readonly #printed = new Map<string, Promise<Ran>>();

  constructor(node: string, installed: string, scratch: string) {
    this.version = execFileSync(node, ['--version'], { encoding: 'utf8' }).trim();
    this.installed = installed;
    this.folder = join(scratch, this.version);
    const bin = join(this.folder, 'bin');
    mkdirSync(bin, { recursive: true });
    // The installed command begins with `env node`, so this Node must be the first of that name.
    symlinkSync(node, join(bin, 'node'));
    this.#path = `${bin}:${join(installed, 'node_modules/.bin')}:${process.env['PATH']}`;
  }

  /** Runs the installed command in the folder `cwd`, in a plain environment but for the change. */
  pomary(cwd: string, argv: readonly string[], change: Change = {}): Promise<Ran> {
    return this.run(['pomary', ...argv], { cwd, ...change });
  }

  /** A line of shell, in which `pomary` and `node` are those of this column. */
  shell(cwd: string, line: string, change: Change = {}): Promise<Ran> {
    return this.run(['sh', '-c', line], { cwd, ...change });
  }

  run(
    command: readonly string[],
    { before = [], env, ...rest }: Change & { cwd: string },
  ): Promise<Ran> {
    const plain = { PATH: this.#path, HOME: this.folder, TZ: 'UTC', LC_ALL: 'C.UTF-8' };
    // By way of env, which looks for the command in the path that it is given.
    return runCommandAside(['/usr/bin/env', ...before, ...command], {
      env: { ...plain, ...env },
      ...rest,
    });
  }

  /** What the command says of a ledger in a plain environment; asked once. */
  plain(ledger: string, argv: readonly string[]): Promise<Ran> {
    const key = JSON.stringify([ledger, argv]);
    const ran = this.#printed.get(key) ?? this.pomary(ledger, argv);
    this.#printed.set(key, ran);
    return ran;
  }
}
