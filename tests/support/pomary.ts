import { run } from '../../src/cli/run.ts';
import { type MemoryWorld, memoryHost } from './memory-host.ts';

export interface Outcome {
  readonly status: number;
  readonly out: string;
  readonly err: string;
}

/** What a command line does in a world of its own. */
export async function pomary(argv: readonly string[], world: MemoryWorld): Promise<Outcome> {
  const captured = memoryHost(world);
  const status = await run(argv, captured.host);
  return { status, out: captured.out(), err: captured.err() };
}
