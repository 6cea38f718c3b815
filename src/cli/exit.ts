/** What the program tells the shell. */
export const EXIT = {
  done: 0,
  /** The ledger has errors; they were shown and nothing was computed from them. */
  ledgerErrors: 1,
  /** The command line is wrong. */
  usage: 2,
  /** A file could not be read or written. */
  file: 3,
  /** A fault of pomary itself. */
  fault: 70,
} as const;

export type ExitCode = (typeof EXIT)[keyof typeof EXIT];

/** A command line that asks for something that cannot be; the message says what to type. */
export class UsageError extends Error {}

/** Everything has been said; only the exit status is left. */
export class Finished extends Error {
  readonly exitCode: ExitCode;

  constructor(exitCode: ExitCode) {
    super('finished');
    this.exitCode = exitCode;
  }
}
