import type { Store } from '../entry/store.ts';

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
  /** Today's date where the person is, YYYY-MM-DD. */
  today(): string;
}

export interface Input {
  readonly isTTY: boolean;
  /** All of it, as text. */
  readAll(): Promise<string>;
  /** Lines typed at a terminal, with Tab completing words. */
  keyboard(complete: Complete): Keyboard;
}

export interface Keyboard {
  /** Shows a prompt and waits for the next line. */
  next(prompt: string): Promise<Typed>;
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
  /** Names in a folder, in no special order. Throws a `FileFault`. */
  list(path: string): readonly string[];
  /** Writes the whole file or leaves the old one whole. Throws a `FileFault`. */
  write(path: string, text: string): void;
  /** Takes a file away, if it is there. Throws a `FileFault`. */
  remove(path: string): void;
}

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
