/** What pomary needs of the world. Tests give it one without a disk or a clock. */
export interface Host {
  /** Absolute path of the folder the person stands in. */
  readonly cwd: string;
  readonly env: Readonly<Record<string, string | undefined>>;
  readonly stdin: Input;
  readonly stdout: Output;
  readonly stderr: Output;
  readonly files: Files;
  /** Today's date where the person is, YYYY-MM-DD. */
  today(): string;
}

export interface Input {
  readonly isTTY: boolean;
  /** All of it, as text. */
  readAll(): Promise<string>;
}

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
  /** Makes a folder and those above it that are missing. Throws a `FileFault`. */
  makeFolder(path: string): void;
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
