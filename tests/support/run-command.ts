import { spawn, spawnSync } from 'node:child_process';
import { text } from 'node:stream/consumers';

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

const TIMEOUT = 300_000;

/** Runs a command to its end. Throws where it cannot be started, or where a stack trace is shown. */
export function runCommand(
  [name = '', ...argv]: readonly string[],
  { cwd, env, input = '' }: Surroundings,
): Ran {
  const { status, stdout, stderr, error } = spawnSync(name, argv, {
    cwd,
    env: withPath(env),
    input,
    encoding: 'utf8',
    maxBuffer: 100_000_000,
    timeout: TIMEOUT,
  });
  if (error !== undefined) throw error;
  return withoutTrace({ status, out: stdout, err: stderr });
}

/** The same while others run. */
export async function runCommandAside(
  [name = '', ...argv]: readonly string[],
  { cwd, env, input = '' }: Surroundings,
): Promise<Ran> {
  const child = spawn(name, argv, { cwd, env: withPath(env), timeout: TIMEOUT });
  const ended = new Promise<number | null>((resolve, reject) => {
    child.once('error', reject);
    child.once('close', resolve);
  });
  // Whoever does not read what it is told has closed its end.
  child.stdin.on('error', () => {});
  child.stdin.end(input);
  const [status, out, err] = await Promise.all([ended, text(child.stdout), text(child.stderr)]);
  return withoutTrace({ status, out, err });
}

function withPath(env: Surroundings['env']): Record<string, string> {
  return { PATH: process.env['PATH'] ?? '', ...env };
}

function withoutTrace(ran: Ran): Ran {
  const trace = /^\s+at .*:\d+:\d+\)?$/m.exec(ran.out + ran.err);
  if (trace !== null) throw new Error(`a stack trace is shown: ${ran.out}${ran.err}`);
  return ran;
}
