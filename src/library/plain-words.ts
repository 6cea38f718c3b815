import { UsageError } from '../cli/exit.ts';

/** Runs what shares its words with the command line, whose options begin with two hyphens. */
export async function inPlainWords<Result>(run: () => Promise<Result>): Promise<Result> {
  try {
    return await run();
  } catch (thrown) {
    if (!(thrown instanceof UsageError)) throw thrown;
    throw new UsageError(thrown.message.replace(/(?<!\S)--([a-z][a-z-]*)/g, inCamelCase));
  }
}

/** As JavaScript spells it: `rainFrom` for `--rain-from`. */
function inCamelCase(_option: string, name: string): string {
  return name.replace(/-([a-z])/g, (_, letter: string) => letter.toUpperCase());
}
