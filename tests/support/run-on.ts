import type { ExitCode } from '../../src/cli/exit.ts';
import { run } from '../../src/cli/run.ts';
import { type MemoryWorld, memoryHost } from './memory-host.ts';

export interface Ran {
  readonly exit: ExitCode;
  readonly out: string;
  readonly err: string;
  /** Files as they are afterwards, by path below `/trial`. */
  readonly files: Readonly<Record<string, string>>;
}

/** Runs one command line on files in memory. */
export async function runOn(
  argv: readonly string[],
  files: MemoryWorld['files'],
  world: Omit<MemoryWorld, 'files'> = {},
): Promise<Ran> {
  const captured = memoryHost({ files, ...world });
  const exit = await run(argv, captured.host);
  const decoder = new TextDecoder();
  const after = [...captured.files].map(([path, content]): [string, string] => [
    path.replace('/trial/', ''),
    typeof content === 'string' ? content : decoder.decode(content),
  ]);
  return { exit, out: captured.out(), err: captured.err(), files: Object.fromEntries(after) };
}
