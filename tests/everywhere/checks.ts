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

  /** Byte for byte; where not, the first line that differs is told. */
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
  const at = ours.findIndex((line, index) => line !== theirs[index]);
  const line = at === -1 ? ours.length : at;
  return `line ${line + 1} is ${JSON.stringify(ours[line])}, not ${JSON.stringify(theirs[line])}`;
}
