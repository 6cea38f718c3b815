import {
  FileFault,
  type FileKind,
  type Host,
  type Revisions,
  type Typed,
  UnknownRevision,
} from '../../src/cli/host.ts';
import { readOwnFile } from '../../src/host/own-file.ts';
import type { IsoDate } from '../../src/model/dates.ts';
import { ABSENT, type Store, type StoreFault } from '../../src/writing/store.ts';

export interface MemoryWorld {
  /** Files by path below `/trial`. */
  readonly files: Readonly<Record<string, string | Uint8Array>>;
  readonly env?: Readonly<Record<string, string>>;
  readonly cwd?: string;
  readonly isTTY?: boolean;
  readonly columns?: number;
  readonly stdin?: string;
  /** YYYY-MM-DD; 1 November 2026 if left out. */
  readonly today?: string;
  /** Lines typed at a terminal; `^C` and `^D` are the keys, and when all are typed it has gone. */
  readonly typed?: readonly string[];
  /** Why entries cannot be written, if they cannot. */
  readonly storeFault?: StoreFault;
  /** None is known where left out. */
  readonly revisions?: Revisions;
}

export interface Captured {
  readonly host: Host;
  /** What was written to standard output and standard error so far. */
  out(): string;
  err(): string;
  /** Files as they are now, by absolute path. */
  readonly files: Map<string, string | Uint8Array>;
}

/** A host without a disk or a clock. */
export function memoryHost(world: MemoryWorld): Captured {
  const files = new Map(
    Object.entries(world.files).map(([path, text]): [string, string | Uint8Array] => [
      `/trial/${path}`,
      text,
    ]),
  );
  let out = '';
  let err = '';
  const stream = (write: (text: string) => void) => ({
    isTTY: world.isTTY ?? false,
    columns: world.columns,
    colorDepth: world.isTTY === true ? 8 : 1,
    write,
  });
  const bytes = (path: string): Uint8Array => {
    const content = files.get(path);
    if (content === undefined) throw new FileFault(path, 'ENOENT', 'it does not exist');
    return typeof content === 'string' ? new TextEncoder().encode(content) : content;
  };
  const kind = (path: string): FileKind => {
    if (files.has(path)) return 'file';
    return [...files.keys()].some((file) => file.startsWith(`${path}/`)) ? 'folder' : 'none';
  };
  const list = (folder: string) => {
    const below = [...files.keys()].filter((file) => file.startsWith(`${folder}/`));
    return [...new Set(below.map((file) => file.slice(folder.length + 1).split('/')[0] ?? ''))];
  };
  return {
    files,
    out: () => out,
    err: () => err,
    host: {
      cwd: world.cwd ?? '/trial',
      env: world.env ?? {},
      stdin: {
        isTTY: world.typed !== undefined,
        readAll: async () => world.stdin ?? '',
        keyboard: () => {
          const typed = [...(world.typed ?? [])];
          return {
            next: async (prompt) => {
              const text = typed.shift();
              out += `${prompt}${text ?? ''}\n`;
              return typedOf(text);
            },
            close: () => {},
          };
        },
      },
      stdout: stream((text) => {
        out += text;
      }),
      stderr: stream((text) => {
        err += text;
      }),
      files: {
        read: bytes,
        size: (path) => bytes(path).length,
        kind,
        realPath: (path) => path,
        list,
        write: (path, text) => {
          files.set(path, text);
        },
        remove: (path) => {
          files.delete(path);
        },
        // A folder is there as soon as a file is in it.
        writeAll: (wanted) => {
          for (const { path, text } of wanted) {
            const parts = path.split('/').slice(0, -1);
            const above = parts.map((_, depth) => parts.slice(0, depth + 1).join('/'));
            const inTheWay = above.find((one) => files.has(one));
            if (inTheWay !== undefined)
              throw new FileFault(inTheWay, 'EEXIST', 'a file is in the way');
            files.set(path, text);
          }
        },
      },
      revisions: world.revisions ?? {
        read: async (_folder, revision) => {
          throw new UnknownRevision(`the repository knows no revision ${revision}`);
        },
      },
      store: (folder) => storeOf(files, folder, world.storeFault),
      own: readOwnFile,
      today: () => (world.today ?? '2026-11-01') as IsoDate,
    },
  };
}

function typedOf(text: string | undefined): Typed {
  if (text === undefined) return { kind: 'gone' };
  if (text === '^C') return { kind: 'interrupt' };
  return text === '^D' ? { kind: 'end' } : { kind: 'line', text };
}

function storeOf(
  files: Map<string, string | Uint8Array>,
  folder: string,
  fault: StoreFault | undefined,
): Store {
  const read = (path: string) => {
    const content = files.get(`${folder}/${path}`);
    if (content === undefined) return undefined;
    const bytes = typeof content === 'string' ? new TextEncoder().encode(content) : content;
    return { bytes, mark: Buffer.from(bytes).toString('hex') };
  };
  const write = (path: string, bytes: Uint8Array, mark: string) => {
    if (fault !== undefined) throw fault;
    if ((read(path)?.mark ?? ABSENT) !== mark) return 'changed';
    const text = new TextDecoder('utf-8', { ignoreBOM: true }).decode(bytes);
    files.set(`${folder}/${path}`, text);
    return 'written';
  };
  return {
    read: async (path) => read(path),
    writeIfUnchanged: async (path, bytes, mark) => write(path, bytes, mark),
    settle: async () => {},
    whileLocked: async (path, action) =>
      action({
        read: async () => read(path),
        writeIfUnchanged: async (bytes, mark) => write(path, bytes, mark),
      }),
  };
}
