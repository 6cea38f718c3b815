import { execFileSync } from 'node:child_process';
import { existsSync } from 'node:fs';
import { join } from 'node:path';
import { type Commit, FileFault, type Snapshot, UnknownRevision } from './cli/host.ts';
import { MAX_FILE_BYTES, type RawFile } from './ledger/raw-file.ts';

/** See `Revisions.read`: by way of the git that is installed; nothing is written, no shell is used. */
export function readRevision(
  folder: string,
  revision: string,
  wanted: (path: string) => boolean,
): Snapshot {
  const here = git(folder, ['rev-parse', '--show-prefix']);
  if (here === undefined) throw new FileFault(folder, 'ENOENT', 'it is not in a git repository');
  const present = here.toString('utf8').replace(/\n$/, '');
  const hash = commitOf(folder, revision);
  const entries = filesAt(folder, hash);
  const then = placeThen(folder, entries, present, revision);
  const own = entries.flatMap(({ path, ...rest }) =>
    path.startsWith(then) && wanted(path.slice(then.length))
      ? [{ ...rest, path: path.slice(then.length) }]
      : [],
  );
  return {
    commit: describe(folder, hash),
    folder: then.replace(/\/$/, ''),
    moved: then !== present,
    files: contents(folder, own),
  };
}

/** The commit that a revision or a day stands for. What git would take for an option is refused. */
function commitOf(folder: string, revision: string): string {
  if (!/^[^-^\p{Cc}][^\p{Cc}]{0,999}$/u.test(revision)) {
    throw new UnknownRevision(`${JSON.stringify(revision)} is no revision`);
  }
  if (revision.includes('..')) {
    const [since, until] = revision.split(/\.{2,3}/);
    throw new UnknownRevision(
      `${revision} spans two revisions; write --since ${since} --until ${until || 'HEAD'}`,
    );
  }
  const named = hashIn(git(folder, ['rev-parse', '--verify', '--quiet', `${revision}^{commit}`]));
  if (named !== undefined) return named;
  if (hashIn(git(folder, ['rev-list', '-n', '1', '--all'])) === undefined) {
    throw new FileFault(folder, 'ENOENT', 'its repository has no commit yet');
  }
  if (!/^\d{4}-\d{2}-\d{2}$/.test(revision)) {
    throw new UnknownRevision(`the repository knows no revision ${revision}; git log lists them`);
  }
  const before = ['rev-list', '-n', '1', `--before=${revision}T00:00:00`, 'HEAD'];
  const last = hashIn(git(folder, before));
  if (last === undefined) throw new UnknownRevision(`there is no commit before ${revision}`);
  return last;
}

function hashIn(output: Buffer | undefined): string | undefined {
  return /^([0-9a-f]{40,64})\n$/.exec(output?.toString('latin1') ?? '')?.[1];
}

interface TreeEntry {
  /** From the top of the repository. */
  readonly path: string;
  readonly blob: string;
  readonly size: number;
}

/** Ordinary files of a commit; links and other repositories are left out. */
function filesAt(folder: string, hash: string): readonly TreeEntry[] {
  const listing = required(folder, ['ls-tree', '-r', '-z', '--long', '--full-tree', hash]);
  return listing
    .toString('utf8')
    .split('\0')
    .flatMap((line) => {
      const found = /^100\d{3} blob ([0-9a-f]+) +(\d+)\t(.+)$/s.exec(line);
      const [, blob, size, path] = found ?? [];
      return blob === undefined || path === undefined ? [] : [{ path, blob, size: Number(size) }];
    });
}

/** The ledger's folder at that commit, with a slash at its end, or empty. */
function placeThen(
  folder: string,
  entries: readonly TreeEntry[],
  present: string,
  revision: string,
): string {
  const all = entries.filter(({ path }) => /(^|\/)ledger\.yaml$/.test(path));
  if (all.some(({ path }) => path === `${present}ledger.yaml`)) return present;
  // A ledger that still stands where it stood is another one, not this one by its old name.
  const top = required(folder, ['rev-parse', '--show-toplevel']).toString('utf8').trimEnd();
  const ledgers = all
    .filter(({ path }) => !existsSync(join(top, path)))
    .map(({ path }) => path.slice(0, -'ledger.yaml'.length));
  const [only, another] = ledgers;
  if (only !== undefined && another === undefined) return only;
  throw new UnknownRevision(
    only === undefined
      ? `there was no ledger.yaml in this folder yet at ${revision}`
      : `at ${revision} this ledger was not in this folder, and there were several others: ${ledgers.map((place) => place || '.').join(', ')}`,
  );
}

function describe(folder: string, hash: string): Commit {
  const format = '--format=%h%x00%cd%x00%s';
  const text = required(folder, ['log', '-1', '--no-show-signature', format, '--date=short', hash]);
  const [name = hash, day = '', subject = ''] = text.toString('utf8').trimEnd().split('\0');
  return { name, day, subject };
}

function contents(folder: string, entries: readonly TreeEntry[]): readonly RawFile[] {
  const readable = entries.filter(({ size }) => size <= MAX_FILE_BYTES);
  const asked = readable.map(({ blob }) => `${blob}\n`).join('');
  const answer = asked === '' ? Buffer.alloc(0) : required(folder, ['cat-file', '--batch'], asked);
  const bytesOf = new Map<TreeEntry, Buffer>();
  let at = 0;
  for (const entry of readable) {
    // "<name> blob <size>", the bytes, and a line feed each.
    const start = answer.indexOf(0x0a, at) + 1;
    const header = answer.toString('latin1', at, start);
    if (!header.endsWith(` blob ${entry.size}\n`)) {
      throw new FileFault(folder, 'EIO', `its repository lacks the contents of ${entry.path}`);
    }
    bytesOf.set(entry, answer.subarray(start, start + entry.size));
    at = start + entry.size + 1;
  }
  return entries.map((entry) => ({
    path: entry.path,
    size: entry.size,
    bytes: bytesOf.get(entry),
  }));
}

function required(folder: string, args: readonly string[], input?: string): Buffer {
  const output = git(folder, args, input);
  if (output === undefined) throw new FileFault(folder, 'EIO', `git ${args[0]} failed there`);
  return output;
}

const MOST_BYTES = 2 ** 30;

/** What git prints; undefined where it says no. */
function git(folder: string, args: readonly string[], input = ''): Buffer | undefined {
  try {
    return execFileSync('git', ['--no-pager', ...args], {
      cwd: folder,
      // Its complaints are read below, and in other languages they would not be understood.
      env: { ...process.env, LC_ALL: 'C' },
      input,
      maxBuffer: MOST_BYTES,
      stdio: ['pipe', 'pipe', 'pipe'],
      windowsHide: true,
    });
  } catch (error) {
    const { code, stderr } = error as { readonly code?: string; readonly stderr?: Buffer };
    if (code === 'ENOENT') {
      throw new FileFault(folder, 'ENOENT', 'git is not installed, and revisions are read by it');
    }
    if (code !== undefined) throw new FileFault(folder, code, `git cannot be run: ${code}`);
    const said = stderr?.toString('utf8') ?? '';
    // A repository of somebody else's: git says what to do about it.
    if (/dubious ownership/.test(said)) {
      throw new FileFault(folder, 'EACCES', said.trim().replace(/\s+/g, ' '));
    }
    return undefined;
  }
}
