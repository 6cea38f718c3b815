import { dirname, join, resolve } from 'node:path';
import { FRAME_FILES } from '../model/ledger.ts';
import { MAX_FILE_BYTES, type RawFile } from '../reading/decode.ts';
import { UsageError } from './exit.ts';
import { FileFault, type Host } from './host.ts';

/**
 * The ledger's folder: the one that was named, else the nearest upward that holds `ledger.yaml`.
 * Throws a `UsageError` where there is none.
 */
export function findLedger(host: Host, named: string | undefined): string {
  if (named !== undefined) {
    if (named === '') throw new UsageError('--ledger needs the name of a folder');
    const folder = resolve(host.cwd, named);
    const kind = host.files.kind(folder);
    if (kind === 'none') throw new FileFault(folder, 'ENOENT', 'it does not exist');
    if (kind === 'other') unusable(host, folder);
    if (kind !== 'folder') throw new FileFault(folder, 'ENOTDIR', 'it is not a folder');
    if (host.files.kind(join(folder, 'ledger.yaml')) === 'none') {
      throw new UsageError(`${named} holds no ledger.yaml, so it is not a ledger`);
    }
    return folder;
  }
  for (let folder = host.cwd; ; folder = dirname(folder)) {
    if (host.files.kind(join(folder, 'ledger.yaml')) !== 'none') return folder;
    if (dirname(folder) === folder) break;
  }
  throw new UsageError(
    `there is no ledger.yaml in ${host.cwd} or any folder above it; go to the ledger's folder or name it with --ledger DIR`,
  );
}

/** Every file of a ledger as bytes. Throws a `FileFault` where one cannot be read. */
export function readFiles(host: Host, folder: string): readonly RawFile[] {
  return pathsOf(host, folder).map((path) => readFile(host, folder, path));
}

/** The files of a ledger, relative to its folder. Throws a `FileFault`. */
export function pathsOf(host: Host, folder: string): readonly string[] {
  const paths = FRAME_FILES.filter((path) => host.files.kind(join(folder, path)) !== 'none');
  for (const [part, ending] of [
    ['seasons', /\.ya?ml$/i],
    ['weather', /\.csv$/i],
  ] as const) {
    const kind = host.files.kind(join(folder, part));
    if (kind === 'none') continue;
    // Names that begin with a full stop are left-overs of editors and of unfinished writes.
    const names = host.files.list(join(folder, part)).filter((name) => !name.startsWith('.'));
    paths.push(
      ...names
        .filter((name) => ending.test(name))
        .sort()
        .map((name) => `${part}/${name}`),
    );
  }
  return paths;
}

/** Throws a `FileFault` with the system's own reason, if it has one: a link to nowhere, no permission. */
function unusable(host: Host, path: string): never {
  host.files.size(path);
  throw new FileFault(path, 'EINVAL', 'it is not an ordinary file');
}

function readFile(host: Host, folder: string, path: string): RawFile {
  const full = join(folder, path);
  const kind = host.files.kind(full);
  if (kind === 'folder') throw new FileFault(full, 'EISDIR', 'it is a folder, not a file');
  if (kind === 'other') unusable(host, full);
  const size = host.files.size(full);
  return { path, size, bytes: size > MAX_FILE_BYTES ? undefined : host.files.read(full) };
}
