import { join } from 'node:path';
import { sha256Hex } from './node-crypto.ts';
import { type Disk, NOT_KNOWN, unless } from './node-disk.ts';

/** A mark by which a change of a file's bytes shows. */
export function markOf(bytes: Uint8Array): string {
  return sha256Hex(bytes);
}

/** What a write has replaced. */
export interface Kept {
  readonly path: string;
  /** Mark of the text when it was replaced, shortened; `NOTHING` where there was no file. */
  readonly before: string;
  /** Mark of what took its place, shortened. */
  readonly after: string;
}

const FOLDER = '.pomary';
const NOTHING = 'nothing';
const README = `# What pomary replaced last, until its next write to the same file. Not for git.
*
`;

/**
 * The text that a file had before the last write to it, in a folder of its own that git passes
 * over. It is the replaced file itself under another name, not a copy, so that what a program still
 * writes into it is not lost; on a disk without hard links it is a copy. Its name tells what was
 * written as well, so that our own last write is known again.
 */
export class KeptTexts {
  readonly #disk: Disk;
  readonly #folder: string;
  readonly #begin: string;

  /**
   * @param ledger the ledger folder
   * @param path of the file, relative to it
   */
  constructor(disk: Disk, ledger: string, path: string) {
    this.#disk = disk;
    this.#folder = join(ledger, FOLDER);
    this.#begin = `${path.replaceAll(/[\\/]/g, '-')}.before-`;
  }

  async list(): Promise<readonly Kept[]> {
    const names = await unless(['ENOENT', 'ENOTDIR', 'EACCES'], () =>
      this.#disk.readdir(this.#folder),
    );
    return (names ?? []).flatMap((name) => {
      const found = /^(\w+)-(\w+)$/.exec(
        name.startsWith(this.#begin) ? name.slice(this.#begin.length) : '',
      );
      const [, before = '', after = ''] = found ?? [];
      return found === null ? [] : [{ path: join(this.#folder, name), before, after }];
    });
  }

  /**
   * Keeps a file that is about to be replaced; undefined where its folder cannot be made.
   *
   * @param target the file, or undefined where there is none yet
   */
  async keep(target: string | undefined, mark: string, next: string): Promise<Kept | undefined> {
    if (!(await this.#makeFolder())) return undefined;
    const before = target === undefined ? NOTHING : short(mark);
    const after = short(next);
    const path = join(this.#folder, `${this.#begin}${before}-${after}`);
    await this.#disk.rm(path, { force: true });
    if (target === undefined) await this.#disk.writeFile(path, '');
    else {
      const linked = await unless([...NOT_KNOWN, 'EXDEV', 'EMLINK', 'EACCES'], async () => {
        await this.#disk.link(target, path);
        return true;
      });
      if (linked === undefined) await this.#disk.copyFile(target, path);
    }
    return { path, before, after };
  }

  async #makeFolder(): Promise<boolean> {
    // A ledger whose own folder cannot be written has no place for it, but its seasons may have.
    const barred = ['EACCES', 'EPERM', 'EROFS'];
    const there = await unless(['EEXIST'], () => this.#disk.mkdir(this.#folder)).then(
      () => true,
      (thrown: NodeJS.ErrnoException) => {
        if (barred.includes(thrown.code ?? '')) return false;
        throw thrown;
      },
    );
    if (!there) return false;
    try {
      const made = await unless(['EEXIST'], async () => {
        await this.#disk.writeFile(join(this.#folder, '.gitignore'), README, { flag: 'wx' });
        return true;
      });
      return made ?? true;
    } catch (thrown) {
      // Empty, it is of no use to anyone.
      await this.#disk.rm(join(this.#folder, '.gitignore'), { force: true });
      await this.#disk.rmdir(this.#folder).catch(() => {});
      if (barred.includes((thrown as NodeJS.ErrnoException).code ?? '')) return false;
      throw thrown;
    }
  }
}

/** Whether a text is, byte for byte, one that the last write found or left. */
export function isKnown(kept: readonly Kept[], mark: string): boolean {
  return kept.some(({ before, after }) => [before, after].includes(short(mark)));
}

/** Whether a kept text is still what it was when it was replaced. */
export function isAsItWas({ before }: Kept, mark: string): boolean {
  return before === NOTHING || before === short(mark);
}

function short(mark: string): string {
  return mark.slice(0, 20);
}
