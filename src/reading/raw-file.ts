/** A file of the ledger as bytes, before anything is known about it. */
export interface RawFile {
  /** Path relative to the ledger folder, with forward slashes. */
  readonly path: string;
  /** Absent where the file was too large to be read. */
  readonly bytes: Uint8Array | undefined;
  /** Size in bytes. */
  readonly size: number;
}

/**
 * Largest file that is read, in bytes. A season of 10,000 entries has about 1 MB; reading a file of
 * this size takes at worst some 500 MB of memory, which any computer of today has.
 */
export const MAX_FILE_BYTES = 5_000_000;
