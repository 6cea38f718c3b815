import {
  closeSync,
  fsyncSync,
  lstatSync,
  mkdirSync,
  openSync,
  readdirSync,
  readFileSync,
  realpathSync,
  renameSync,
  rmdirSync,
  rmSync,
  statSync,
  writeFileSync,
} from 'node:fs';
import { basename, dirname, join } from 'node:path';
import { createInterface, type Interface } from 'node:readline';
import {
  type Complete,
  FileFault,
  type FileKind,
  type Host,
  type Keyboard,
  type NewFile,
  type Output,
  type Typed,
} from '../cli/host.ts';
import type { IsoDate } from '../model/dates.ts';
import { visible } from '../source/visible.ts';
import { randomHex } from './node-crypto.ts';
import { nodeStore } from './node-store.ts';
import { readOwnFile } from './own-file.ts';

/**
 * The real world: this process, its streams, its disk and its clock.
 *
 * @param wrote is told of every file of a ledger into which entries went
 */
export function nodeHost(wrote?: () => void): Host {
  return {
    // The folder may have been deleted under the person's feet.
    get cwd() {
      return guarded('the current folder', () => process.cwd());
    },
    env: process.env,
    stdin: {
      // Opening the stream can fail, and most commands never ask for it.
      get isTTY() {
        return process.stdin.isTTY === true;
      },
      readAll,
      keyboard,
    },
    stdout: output(process.stdout),
    stderr: output(process.stderr),
    files: {
      read: (path) => guarded(path, () => readSettled(path)),
      size: (path) => guarded(path, () => statSync(path).size),
      kind,
      realPath: (path) => guarded(path, () => realpathSync(path)),
      list: (path) => guarded(path, () => readdirSync(path)),
      write: (path, text) => guarded(path, () => writeWhole(path, text)),
      remove: (path) => guarded(path, () => rmSync(path, { force: true })),
      writeAll,
    },
    revisions: {
      // Only one command asks for them.
      read: async (...asked) => (await import('./node-revisions.ts')).readRevision(...asked),
    },
    store: (folder) =>
      nodeStore(folder, {
        ...(wrote === undefined ? {} : { wrote }),
        warn: (path, warning) => {
          process.stderr.write(`pomary: ${visible(`${path}: ${warning}`)}\n`);
        },
      }),
    own: readOwnFile,
    today: localDate,
  };
}

async function readAll(): Promise<string> {
  const chunks: Buffer[] = [];
  for await (const chunk of process.stdin) chunks.push(Buffer.from(chunk));
  return Buffer.concat(chunks).toString('utf8');
}

/** Lines that come faster than they are asked for, as when many are pasted, wait their turn. */
function keyboard(complete: Complete): Keyboard {
  const waiting: Typed[] = [];
  let asking: ((typed: Typed) => void) | undefined;
  let open: Interface | undefined;
  const give = (typed: Typed) => {
    if (asking === undefined) waiting.push(typed);
    else asking(typed);
    asking = undefined;
  };
  const begin = (): Interface => {
    const lines = createInterface({
      input: process.stdin,
      output: process.stdout,
      completer: (line: string) => {
        const { start, words } = complete(line);
        return [words.map((word) => `${word} `), line.slice(start)];
      },
    });
    lines.on('line', (text) => {
      // What is typed before the next prompt is shown behind it.
      lines.pause();
      give({ kind: 'line', text });
    });
    lines.on('SIGINT', () => {
      waiting.length = 0;
      give({ kind: 'interrupt' });
    });
    lines.on('close', () => {
      if (open !== lines) return;
      open = undefined;
      // Ctrl-D closes the interface, but the terminal is still there.
      give({ kind: process.stdin.readableEnded || process.stdin.destroyed ? 'gone' : 'end' });
    });
    return lines;
  };
  return {
    next: (prompt, begun = '') => {
      const typed = waiting.shift();
      if (typed !== undefined) return Promise.resolve(typed);
      open ??= begin();
      open.setPrompt(prompt);
      // With the cursor where it is: part of the line may have been typed already.
      open.prompt(true);
      if (begun !== '') open.write(begun);
      return new Promise((resolve) => {
        asking = resolve;
      });
    },
    close: () => {
      const lines = open;
      open = undefined;
      lines?.close();
    },
  };
}

function output(stream: NodeJS.WriteStream): Output {
  return {
    isTTY: stream.isTTY === true,
    columns: stream.isTTY === true ? stream.columns : undefined,
    colorDepth: stream.isTTY === true ? stream.getColorDepth() : 1,
    write: (text) => {
      stream.write(text);
    },
  };
}

/** How long an empty file may have been emptied by a program that is about to write to it, ms. */
const EMPTY_FOR = 2000;

/** A file that was emptied a moment ago, as many programs do before they save, is waited for. */
function readSettled(path: string): Uint8Array {
  const until = Date.now() + EMPTY_FOR;
  for (;;) {
    const bytes = readFileSync(path);
    if (bytes.length > 0) return bytes;
    const stat = statSync(path);
    const isFresh = stat.isFile() && Math.abs(Date.now() - stat.mtimeMs) < EMPTY_FOR;
    if ((stat.size === 0 && !isFresh) || Date.now() > until) return bytes;
    Atomics.wait(new Int32Array(new SharedArrayBuffer(4)), 0, 0, 20);
  }
}

function kind(path: string): FileKind {
  try {
    const stat = statSync(path);
    if (stat.isFile()) return 'file';
    return stat.isDirectory() ? 'folder' : 'other';
  } catch (error) {
    // A link that leads nowhere is there, but is no file.
    return lstatExists(path) || codeOf(error) === 'EACCES' ? 'other' : 'none';
  }
}

function lstatExists(path: string): boolean {
  try {
    lstatSync(path);
    return true;
  } catch {
    return false;
  }
}

/** A temporary file in the same folder, flushed, then renamed over the old one: whole or not at all. */
function writeWhole(path: string, text: string | Uint8Array): void {
  // A device or a pipe is written to; a rename would put a file in its place.
  if (kind(path) === 'other') {
    writeFileSync(path, text);
    return;
  }
  const target = lstatExists(path) ? realpathSync(path) : path;
  const temporary = join(dirname(target), `.${basename(target)}.${randomHex(6)}.tmp`);
  const mode = lstatExists(target) ? statSync(target).mode & 0o777 : 0o666;
  try {
    const file = openSync(temporary, 'wx', mode);
    try {
      writeFileSync(file, text);
      fsyncSync(file);
    } finally {
      closeSync(file);
    }
    renameSync(temporary, target);
  } catch (error) {
    rmSync(temporary, { force: true });
    throw error;
  }
}

function writeAll(files: readonly NewFile[]): void {
  const undo: (() => void)[] = [];
  try {
    for (const { path, text } of files) {
      guarded(dirname(path), () => makeFolder(dirname(path), undo));
      const isNew = kind(path) === 'none';
      guarded(path, () => writeWhole(path, text));
      if (isNew) undo.push(() => rmSync(path, { force: true }));
    }
  } catch (thrown) {
    for (const step of undo.reverse()) {
      try {
        step();
      } catch {
        // What another program has put there meanwhile stays.
      }
    }
    throw thrown;
  }
}

/** With its parents, one by one: made in one go, a folder on a read-only disk "does not exist". */
function makeFolder(path: string, undo: (() => void)[]): void {
  if (kind(path) === 'folder') return;
  if (dirname(path) !== path) makeFolder(dirname(path), undo);
  try {
    mkdirSync(path);
    undo.push(() => rmdirSync(path));
  } catch (error) {
    // Another process may have made it meanwhile.
    if (kind(path) !== 'folder') throw error;
  }
}

const REASONS: Readonly<Record<string, string>> = {
  EEXIST: 'a file of that name is in the way',
  ENOENT: 'it does not exist',
  EACCES: 'this account may not open it',
  EPERM: 'this account may not change it',
  EISDIR: 'it is a folder, not a file',
  ENOTDIR: 'a part of its path is a file, not a folder',
  ELOOP: 'its links go round in a circle',
  ENOSPC: 'the disk is full',
  EDQUOT: 'the disk quota is used up',
  EROFS: 'the disk can only be read',
  EMFILE: 'too many files are open',
  ENAMETOOLONG: 'its name is too long',
  EIO: 'the disk reports a fault',
};

function guarded<Result>(path: string, action: () => Result): Result {
  try {
    return action();
  } catch (error) {
    throw new FileFault(path, codeOf(error), reasonOf(error));
  }
}

/** Why the system would not do it, in words for a person. */
export function reasonOf(error: unknown): string {
  const code = codeOf(error);
  return REASONS[code] ?? `the system says ${code}`;
}

function codeOf(error: unknown): string {
  return error instanceof Error && 'code' in error ? String(error.code) : 'unknown';
}

function localDate(): IsoDate {
  const now = new Date();
  const two = (part: number) => String(part).padStart(2, '0');
  return `${now.getFullYear()}-${two(now.getMonth() + 1)}-${two(now.getDate())}` as IsoDate;
}
