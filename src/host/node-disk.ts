import type * as promises from 'node:fs/promises';
import { StoreFault } from '../writing/store.ts';

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

const REASONS: Readonly<Record<string, readonly [reason: string, advice: string]>> = {
  ENOENT: ['its folder does not exist', 'look whether the ledger was moved'],
  EACCES: ['this account may not write there', 'change the permissions of the folder'],
  EPERM: ['this account may not change it', 'change the permissions of the file'],
  EROFS: ['the disk can only be read', 'use a disk that can be written'],
  EISDIR: ['it is a folder, not a file', 'move the folder away'],
  ENOTDIR: ['a part of its path is a file, not a folder', 'look whether the ledger was moved'],
  ELOOP: ['its links go round in a circle', 'replace the link by a file'],
  ENOSPC: ['the disk is full', 'make room, then try again'],
  EDQUOT: ['the disk quota is used up', 'make room, then try again'],
  EMFILE: ['too many files are open', 'close some programs, then try again'],
  EXDEV: [
    'it lies on another disk than its folder',
    'where that single file is mounted, mount its folder instead',
  ],
  EBUSY: [
    'something holds on to the file',
    'close what has it open, or where that single file is mounted, mount its folder instead',
  ],
  EIO: ['the disk reports a fault', 'save your files elsewhere'],
};

/** Runs what uses the disk: what the system refuses becomes a `StoreFault`, in words for a person. */
export async function guarded<Result>(
  path: string,
  action: () => Promise<Result>,
): Promise<Result> {
  try {
    return await action();
  } catch (thrown) {
    if (thrown instanceof StoreFault) throw thrown;
    const code = codeOf(thrown);
    if (code === '') throw thrown;
    const [reason, advice] = REASONS[code] ?? [`the system says ${code}`, ''];
    throw new StoreFault(path, code, reason, advice);
  }
}
