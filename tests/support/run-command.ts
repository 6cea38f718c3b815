import { spawnSync } from 'node:child_process';

/** Where a command runs. `env` is all of its environment but PATH; `input` is what it is told. */
export interface Surroundings {
  readonly cwd: string;
  readonly env?: Readonly<Record<string, string>>;
  readonly input?: string;
}

export interface Ran {
  readonly status: number | null;
  readonly out: string;
  readonly err: string;
}

/** Runs a command to its end. Throws where it cannot be started, or where a stack trace is shown. */
export function runCommand(
  [name = '', ...argv]: readonly string[],
  { cwd, env, input = '' }: Surroundings,
): Ran {
  const { status, stdout, stderr, error } = spawnSync(name, argv, {
    cwd,
    env: { PATH: process.env['PATH'] ?? '', ...env },
    input,
    encoding: 'utf8',
    maxBuffer: 100_000_000,
    timeout: 300_000,
  });
  if (error !== undefined) throw error;
  const trace = /^\s+at .*:\d+:\d+\)?$/m.exec(stdout + stderr);
  if (trace !== null) throw new Error(`a stack trace is shown by ${argv.join(' ')}: ${stderr}`);
  return { status, out: stdout, err: stderr };
}
