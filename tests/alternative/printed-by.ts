import { spawnSync } from 'node:child_process';
import { PLAIN_ENVIRONMENT } from '../bench/bench-spending.ts';

/** A program and its arguments. */
export type Command = readonly [string, ...string[]];

/**
 * What a program prints.
 *
 * @throws Error with what it says on standard error, if it fails
 */
export function printedBy([program, ...args]: Command): string {
  const { status, stdout, stderr } = spawnSync(program, args, {
    encoding: 'utf8',
    env: PLAIN_ENVIRONMENT,
    maxBuffer: 2 ** 28,
  });
  if (status !== 0)
    throw new Error(`${[program, ...args].join(' ')} ended with ${status}: ${stderr}`);
  return stdout;
}
