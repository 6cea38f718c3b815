import { execFileSync } from 'node:child_process';
import { existsSync, realpathSync } from 'node:fs';
import { dirname, join } from 'node:path';
import { type Commit, FileFault, type Snapshot, UnknownRevision } from '../cli/host.ts';
import { MAX_FILE_BYTES, type RawFile } from '../reading/decode.ts';

/**
 * See `Revisions.read`: by way of the git that is installed. Nothing is written, no shell is used, and
 * whatever the repository's configuration says, none of its programs runs and nothing is fetched.
 */
export function readRevision(
  folder: string,
  revision: string,
  wanted: (path: string) => boolean,
): Snapshot {
  refuseBuried(folder);
  const here = git(folder, ['rev-parse', '--show-prefix']);
  if (here === undefined) throw new FileFault(folder, 'ENOENT', 'it is not in a git repository');
  const present = here.toString('utf8').replace(/\n$/, '');
  const hash = commitOf(folder, revision);
  const then = placeThen(folder, hash, present, revision);
  const own = filesAt(folder, `${hash}:${then}`).filter(({ path }) => wanted(path));
  return {
    commit: describe(folder, hash),
    folder: then.replace(/\/$/, ''),
    moved: then !== present,
    files: contents(folder, own),
  };
}

/**
 * A repository can hold the files of a bare repository like any others, and git, started among them,
 * takes them for the repository, with a configuration that a stranger wrote. Gits before 2.38 cannot
 * be told to pass them by, so this looks where git would look, before any git is started.
 */
function refuseBuried(folder: string): void {
  if (process.env['GIT_DIR'] !== undefined) return;
  for (let place = realpathSync(folder); ; place = dirname(place)) {
    if (existsSync(join(place, '.git'))) return;
    if (['HEAD', 'objects', 'refs'].every((name) => existsSync(join(place, name)))) {
      throw new FileFault(
        folder,
        'EPERM',
        `HEAD, objects and refs in ${place} make it a bare repository, whose settings may come from a stranger, so no git is started there; take them away if they are not yours`,
      );
    }
    if (dirname(place) === place) return;
  }
}

/** The commit that a revision or a day stands for. What git would take for an option is refused. */
function commitOf(folder: string, revision: string): string {
  if (!/^[^-^\p{Cc}][^\p{Cc}]{0,999}$/u.test(revision)) {
    throw new UnknownRevision(`${JSON.stringify(revision)} is no revision`);
  }
  if (revision.includes('..')) {
    throw new UnknownRevision(spanAdvice(revision));
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

function spanAdvice(revision: string): string {
  const [, since, until] = /^(?!\.)(.+?)\.{2,3}(?![./])(.*)$/.exec(revision) ?? [];
  return since === undefined
    ? `${revision} is no revision; git log lists them, and a day is written 2026-09-01`
    : `${revision} spans two revisions; write --since ${since} --until ${until || 'HEAD'}`;
}

function hashIn(output: Buffer | undefined): string | undefined {
  return /^([0-9a-f]{40,64})\n$/.exec(output?.toString('latin1') ?? '')?.[1];
}

interface TreeEntry {
  /** From the folder that was listed. */
  readonly path: string;
  readonly blob: string;
}

/** Ordinary files of a commit or of a folder in it; links and other repositories are left out. */
function filesAt(folder: string, tree: string): readonly TreeEntry[] {
  // Names alone: to tell sizes, git would open every file.
  const listing = required(folder, ['ls-tree', '-r', '-z', '--full-tree', tree]);
  return listing
    .toString('utf8')
    .split('\0')
    .flatMap((line) => {
      const [, blob, path] = /^100\d{3} blob ([0-9a-f]+)\t(.+)$/s.exec(line) ?? [];
      return blob === undefined || path === undefined ? [] : [{ path, blob }];
    });
}

/** The ledger's folder at that commit, with a slash at its end, or empty. */
function placeThen(folder: string, hash: string, present: string, revision: string): string {
  const stillHere = ['rev-parse', '--verify', '--quiet', `${hash}:${present}ledger.yaml`];
  if (hashIn(git(folder, stillHere)) !== undefined) return present;
  const all = filesAt(folder, hash).filter(({ path }) => /(^|\/)ledger\.yaml$/.test(path));
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
  // `log` would heed what the configuration says of signatures and the like.
  const format = ['--format=%h%x00%cd%x00%s', '--date=short'];
  const text = required(folder, ['rev-list', '-n', '1', ...format, hash]).toString('utf8');
  const [name = hash, day = '', subject = ''] = text
    .slice(text.indexOf('\n') + 1)
    .trimEnd()
    .split('\0');
  return { name, day, subject };
}

function contents(folder: string, entries: readonly TreeEntry[]): readonly RawFile[] {
  const sizes = sizesOf(folder, [...new Set(entries.map(({ blob }) => blob))]);
  const readable = [...sizes].filter(([, size]) => size <= MAX_FILE_BYTES);
  const answer = catFile(
    folder,
    '--batch',
    readable.map(([blob]) => blob),
  );
  const bytesOf = new Map<string, Buffer>();
  let at = 0;
  for (const [blob, size] of readable) {
    // "<name> blob <size>", the bytes, and a line feed each.
    const start = answer.indexOf(0x0a, at) + 1;
    if (answer.toString('latin1', at, start) !== `${blob} blob ${size}\n`) throw lacking(folder);
    bytesOf.set(blob, answer.subarray(start, start + size));
    at = start + size + 1;
  }
  return entries.map(({ path, blob }) => ({
    path,
    size: sizes.get(blob) ?? 0,
    bytes: bytesOf.get(blob),
  }));
}

/** Size in bytes by name, in the order asked for. */
function sizesOf(folder: string, blobs: readonly string[]): ReadonlyMap<string, number> {
  const lines = catFile(folder, '--batch-check', blobs).toString('latin1').split('\n');
  return new Map(
    blobs.map((blob, index) => {
      const [name, kind, size] = lines[index]?.split(' ') ?? [];
      if (name !== blob || kind !== 'blob') throw lacking(folder);
      return [blob, Number(size)];
    }),
  );
}

function catFile(folder: string, how: '--batch' | '--batch-check', blobs: readonly string[]) {
  if (blobs.length === 0) return Buffer.alloc(0);
  return required(folder, ['cat-file', how], blobs.map((blob) => `${blob}\n`).join(''));
}

function lacking(folder: string): FileFault {
  return new FileFault(
    folder,
    'ENODATA',
    'its repository lacks files of that time, as a partial clone does, and pomary fetches nothing; if you trust the place it was cloned from, git fetch --refetch --no-filter brings them',
  );
}

function required(folder: string, args: readonly string[], input?: string): Buffer {
  const output = git(folder, args, input);
  if (output === undefined) throw new FileFault(folder, 'EIO', `git ${args[0]} failed there`);
  return output;
}

const MOST_BYTES = 2 ** 30;

/**
 * What would have git run or reach something is shut twice over, since older gits know only some of
 * it: every git that can fetch on its own heeds the list of allowed protocols, and `ext`, `ssh` or a
 * path of this machine, all of which start a program, are protocols too.
 */
const SHUT = {
  GIT_NO_LAZY_FETCH: '1',
  GIT_ALLOW_PROTOCOL: 'none',
  GIT_TERMINAL_PROMPT: '0',
  GIT_OPTIONAL_LOCKS: '0',
};
const SHUT_SETTINGS = [
  'safe.bareRepository=explicit',
  'protocol.allow=never',
  'core.fsmonitor=false',
  'core.hooksPath=/dev/null',
  'core.sshCommand=false',
].flatMap((setting) => ['-c', setting]);

/** What git prints; undefined where it says no. */
function git(folder: string, args: readonly string[], input = ''): Buffer | undefined {
  try {
    return execFileSync('git', ['-C', folder, '--no-pager', ...SHUT_SETTINGS, ...args], {
      // Not in the ledger: Windows looks for programs where one stands before it looks elsewhere.
      cwd: dirname(process.execPath),
      // Its complaints are read below, and in other languages they would not be understood.
      env: { ...process.env, ...SHUT, LC_ALL: 'C' },
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
    if (/promisor remote|lazy fetching|transport '.*' not allowed/.test(said)) {
      throw lacking(folder);
    }
    return undefined;
  }
}
