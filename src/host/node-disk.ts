import type * as promises from 'node:fs/promises';

/** What the writer asks of a disk; tests give it one that fails. */
export type Disk = Pick<
  typeof promises,
  | 'access'
  | 'copyFile'
  | 'link'
  | 'lstat'
  | 'mkdir'
  | 'open'
  | 'readdir'
  | 'readFile'
  | 'realpath'
  | 'rename'
  | 'rm'
  | 'rmdir'
  | 'stat'
  | 'writeFile'
>;

/** The system's own short code of what went wrong; empty for anything else. */
export function codeOf(thrown: unknown): string {
  return thrown instanceof Error && 'code' in thrown ? String(thrown.code) : '';
}

/** What an action gives, or undefined where it fails with one of these codes. */
export async function unless<Result>(
  codes: readonly string[],
  action: () => Promise<Result>,
): Promise<Result | undefined> {
  try {
    return await action();
  } catch (thrown) {
    if (codes.includes(codeOf(thrown))) return undefined;
    throw thrown;
  }
}

/** A disk that does not know the call at all. */
export const NOT_KNOWN: readonly string[] = ['EPERM', 'ENOTSUP', 'ENOSYS', 'EOPNOTSUPP'];
