/** What a file held when it was read, and a mark by which a change shows. */
export interface Stored {
  readonly bytes: Uint8Array;
  readonly mark: string;
}

/** The mark of a file that is not there. */
export const ABSENT = 'absent';

/** The little of a disk that writing entries needs. Every method throws a `StoreFault`. */
export interface Store {
  /** The bytes of a file, or undefined where there is none. */
  read(path: string): Promise<Stored | undefined>;
  /**
   * Replaces the whole file at once, or leaves the old one whole. Says `changed`, and writes
   * nothing, where the file is no longer what `mark` says.
   */
  writeIfUnchanged(path: string, bytes: Uint8Array, mark: string): Promise<'written' | 'changed'>;
  /**
   * Waits, but not for ever, while another program seems to be saving the file. Whatever is wrong
   * with it is left for the reading to say.
   */
  settle(path: string): Promise<void>;
  /** Does something while no other pomary writes to the file; waits its turn, but not for ever. */
  whileLocked<Result>(path: string, action: (file: HeldFile) => Promise<Result>): Promise<Result>;
}

/** A file that no other pomary writes to; other programs may. Every method throws a `StoreFault`. */
export interface HeldFile {
  /** As `Store.read`, but a file that another program is saving is waited for. */
  read(): Promise<Stored | undefined>;
  /** As `Store.writeIfUnchanged`, but what is replaced is kept until the next write. */
  writeIfUnchanged(bytes: Uint8Array, mark: string): Promise<'written' | 'changed'>;
}

/** A file that cannot be read, written or locked, in words for a person. */
export class StoreFault extends Error {
  readonly path: string;
  /**
   * The system's own short code, such as EACCES; `LOCKED` where another pomary does not finish,
   * `CHANGED` where another program does not, `CUT` where most of the file has gone.
   */
  readonly code: string;
  readonly advice: string;

  constructor(path: string, code: string, reason: string, advice: string) {
    super(reason);
    this.path = path;
    this.code = code;
    this.advice = advice;
  }
}
