import type { IsoDate } from '../model/dates.ts';
import type { RawFile } from '../reading/decode.ts';
import type { Store } from '../writing/store.ts';

/** What pomary needs of the world. Tests give it one without a disk or a clock. */
export interface Host {
  /** Absolute path of the folder the person stands in. */
  readonly cwd: string;
  readonly env: Readonly<Record<string, string | undefined>>;
  readonly stdin: Input;
  readonly stdout: Output;
  readonly stderr: Output;
  readonly files: Files;
  /** A ledger folder to write entries into. */
  store(folder: string): Store;
  readonly revisions: Revisions;
  /** A file that the program brings along. */
  own(name: OwnFile): Uint8Array;
  /** Today's date where the person is, YYYY-MM-DD. */
  today(): IsoDate;
}

/** What the program brings along and is no code: what pictures are drawn with. */
export type OwnFile = 'renderer' | 'font-regular' | 'font-bold';

export interface Input {
  readonly isTTY: boolean;
  /** All of it, as text. */
  readAll(): Promise<string>;
  /** Lines typed at a terminal, with Tab completing words. */
  keyboard(complete: Complete): Keyboard;
}

export interface Keyboard {
  /** Shows a prompt and waits for the next line, which may be begun already. */
  next(prompt: string, begun?: string): Promise<Typed>;
  /** Lets go of the terminal. */
  close(): void;
}

/** `end` is Ctrl-D, `interrupt` Ctrl-C; `gone` says that there is no terminal any more. */
export type Typed =
  | { readonly kind: 'line'; readonly text: string }
  | { readonly kind: 'end' }
  | { readonly kind: 'interrupt' }
  | { readonly kind: 'gone' };

/** The words that may stand at the end of a line in place of what begins at `start`. */
export type Complete = (line: string) => {
  readonly start: number;
  readonly words: readonly string[];
};

export interface Output {
  readonly isTTY: boolean;
  /** Columns of the terminal, if it is one that says. */
  readonly columns: number | undefined;
  /** Colour depth in bits as the terminal reports it; 1 where it has none. */
  readonly colorDepth: number;
  write(text: string): void;
}

export type FileKind = 'file' | 'folder' | 'other' | 'none';

export interface Files {
  /** Throws a `FileFault`. */
  read(path: string): Uint8Array;
  /** Size in bytes of a file. Throws a `FileFault`. */
  size(path: string): number;
  kind(path: string): FileKind;
  /** The path that is left once all links are followed. Throws a `FileFault`. */
  realPath(path: string): string;
  /** Names in a folder, in no special order. Throws a `FileFault`. */
  list(path: string): readonly string[];
  /** Writes the whole file or leaves the old one whole. Throws a `FileFault`. */
  write(path: string, text: string | Uint8Array): void;
  /** Takes a file away, if it is there. Throws a `FileFault`. */
  remove(path: string): void;
  /**
   * Writes files and the folders that are missing above them. Throws a `FileFault`, and leaves
   * nothing new behind, where one of them cannot be written.
   */
  writeAll(files: readonly NewFile[]): void;
}

export interface NewFile {
  readonly path: string;
  /** Or bytes, as of a picture. */
  readonly text: string | Uint8Array;
}

/** A ledger's folder as a repository remembers it. */
export interface Revisions {
  /**
   * The files of a folder at a revision: a name that the repository knows, or a day (YYYY-MM-DD),
   * which stands for the last commit before it. Where the folder bore another name then, it is
   * found by its `ledger.yaml`, if that is the only one that has gone since.
   *
   * Rejects with a `FileFault` where there is no repository, no commit or no git, and with an
   * `UnknownRevision`.
   *
   * @param folder absolute path of the ledger's folder as it is now
   * @param wanted whether a file of that path inside the folder is asked for
   */
  read(folder: string, revision: string, wanted: (path: string) => boolean): Promise<Snapshot>;
}

export interface Snapshot {
  readonly commit: Commit;
  /** Where the folder was then, from the top of the repository; empty for the top itself. */
  readonly folder: string;
  /** Whether it bears another name now. */
  readonly moved: boolean;
  readonly files: readonly RawFile[];
}

export interface Commit {
  /** Abbreviated name of the commit. */
  readonly name: string;
  /** The day it was made, YYYY-MM-DD, where it was made. */
  readonly day: string;
  /** First line of its message. */
  readonly subject: string;
}

/** A revision that the repository does not know, or that has no ledger; in words for a person. */
export class UnknownRevision extends Error {}

/** A file that cannot be read or written, in words for a person. */
export class FileFault extends Error {
  readonly path: string;
  /** The system's own short code, such as EACCES. */
  readonly code: string;

  constructor(path: string, code: string, reason: string) {
    super(reason);
    this.path = path;
    this.code = code;
  }
}
