/** A file of the ledger as bytes, before anything is known about it. */
export interface RawFile {
  /** Path relative to the ledger folder, with forward slashes. */
  readonly path: string;
  /** Absent where the file was too large to be read. */
  readonly bytes: Uint8Array | undefined;
  /** Size in bytes. */
  readonly size: number;
}

/** Largest file that is read, in bytes. A season of 10,000 entries has about 1 MB. */
export const MAX_FILE_BYTES = 20_000_000;
