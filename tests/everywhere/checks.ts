/** Thrown by a condition that cannot be made on this machine; the message says why. */
export class CannotBeMade extends Error {}

/** Counts what held, and keeps in words what did not. */
export class Checks {
  passed = 0;
  readonly failures: string[] = [];

  that(what: string, holds: boolean, shown = ''): void {
    if (holds) this.passed++;
    else this.failures.push(shown === '' ? what : `${what}: ${shown}`);
  }

  /** Byte for byte; where not, the first place that differs is told. */
  same(what: string, found: string, wanted: string): void {
    this.that(what, found === wanted, firstDifference(found, wanted));
  }

  has(what: string, text: string, part: string | RegExp): void {
    const found = typeof part === 'string' ? text.includes(part) : part.test(text);
    this.that(what, found, `${part} is not in ${JSON.stringify(text.slice(0, 300))}`);
  }
}

function firstDifference(found: string, wanted: string): string {
  const [ours, theirs] = [found.split('\n'), wanted.split('\n')];
  const differs = ours.findIndex((text, index) => text !== theirs[index]);
  const at = differs === -1 ? ours.length : differs;
  const [mine = '', other = ''] = [ours[at], theirs[at]];
  let column = 0;
  while (column < mine.length && mine[column] === other[column]) column++;
  const near = (text: string) => JSON.stringify(text.slice(Math.max(0, column - 20), column + 40));
  return `line ${at + 1} has ${near(mine)}, not ${near(other)}`;
}
