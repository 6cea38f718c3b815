import {
  FileFault,
  type FileKind,
  type Host,
  type Revisions,
  UnknownRevision,
} from '../../src/cli/host.ts';

export interface MemoryWorld {
  /** Files by path below `/trial`. */
  readonly files: Readonly<Record<string, string | Uint8Array>>;
  readonly env?: Readonly<Record<string, string>>;
  readonly cwd?: string;
  readonly isTTY?: boolean;
  readonly columns?: number;
  readonly stdin?: string;
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

/** A host without a disk or a clock: it is always 1 November 2026. */
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
      stdin: { isTTY: false, readAll: async () => world.stdin ?? '' },
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
        list,
        write: (path, text) => {
          files.set(path, text);
        },
        // A folder is there as soon as a file is in it.
        makeFolder: (path) => {
          const parts = path.split('/');
          const above = parts.map((_, depth) => parts.slice(0, depth + 1).join('/'));
          const inTheWay = above.find((one) => files.has(one));
          if (inTheWay !== undefined)
            throw new FileFault(inTheWay, 'EEXIST', 'a file is in the way');
        },
      },
      revisions: world.revisions ?? {
        read: async (_folder, revision) => {
          throw new UnknownRevision(`the repository knows no revision ${revision}`);
        },
      },
      today: () => '2026-11-01',
    },
  };
}
