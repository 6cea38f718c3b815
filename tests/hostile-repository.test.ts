import { execFileSync, spawn } from 'node:child_process';
import {
  appendFileSync,
  chmodSync,
  cpSync,
  existsSync,
  mkdirSync,
  mkdtempSync,
  readdirSync,
  readFileSync,
  rmSync,
  unlinkSync,
  writeFileSync,
} from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterEach, describe, expect, test } from 'vitest';
import { run } from '../src/cli/run.ts';
import { nodeHost } from '../src/host/node-host.ts';
import { layFiles } from './support/lay-files.ts';
import { WALL_AND_GLASS } from './support/wall-and-glass.ts';

// Ledgers come from strangers. Each repository here would have plain git start a program or reach a
// server, which is shown first; pomary asked about the same repository must not.

const made: string[] = [];
afterEach(() => {
  for (const place of made.splice(0)) rmSync(place, { recursive: true, force: true });
});

const PLAIN = {
  PATH: process.env['PATH'] ?? '',
  GIT_CONFIG_GLOBAL: '/dev/null',
  GIT_CONFIG_SYSTEM: '/dev/null',
  GIT_AUTHOR_NAME: 'Mara',
  GIT_AUTHOR_EMAIL: 'mara@example.org',
  GIT_COMMITTER_NAME: 'Mara',
  GIT_COMMITTER_EMAIL: 'mara@example.org',
};

function git(folder: string, ...args: readonly string[]): string {
  return execFileSync('git', args, {
    cwd: folder,
    env: PLAIN,
    encoding: 'utf8',
    stdio: 'pipe',
    timeout: 60_000,
  });
}

/** Plain git, whose failure afterwards does not matter. */
function tryGit(folder: string, args: readonly string[]): void {
  try {
    git(folder, ...args);
  } catch {
    // What counts is what it started.
  }
}

async function changes(cwd: string, ...argv: readonly string[]) {
  let out = '';
  let err = '';
  const stream = (write: (text: string) => void) => ({
    ...{ isTTY: false, columns: undefined, colorDepth: 1 },
    write,
  });
  const host = {
    ...nodeHost(),
    ...{ cwd, env: {} },
    stdout: stream((text) => {
      out += text;
    }),
    stderr: stream((text) => {
      err += text;
    }),
  };
  return { status: await run(['changes', ...argv], host), out, err };
}

interface Trap {
  readonly top: string;
  /** The ledger's folder. */
  readonly trial: string;
  /** A program that leaves a mark. */
  readonly program: string;
  /** Whether it ran since the last look. */
  ran(): boolean;
}

/** A repository with the ledger in `trial`, two commits, and a program that nobody should start. */
function trap(): Trap {
  const top = mkdtempSync(join(tmpdir(), 'pomary-hostile-'));
  made.push(top);
  const mark = join(top, 'ran');
  const program = join(top, 'program.sh');
  writeFileSync(program, `#!/bin/sh\necho ran >> '${mark}'\n`);
  chmodSync(program, 0o755);
  const repository = join(top, 'repository');
  const trial = join(repository, 'trial');
  layFiles(trial, WALL_AND_GLASS);
  git(repository, 'init', '--quiet');
  git(repository, 'add', '--all');
  git(repository, 'commit', '--quiet', '-m', 'Begin the ledger');
  appendFileSync(join(trial, 'seasons/2026.yaml'), '# later\n');
  git(repository, 'commit', '--quiet', '--all', '-m', 'Go on');
  const ran = () => {
    const was = existsSync(mark);
    if (was) unlinkSync(mark);
    return was;
  };
  return { top: repository, trial, program, ran };
}

const LACKS = 'its repository lacks files of that time, as a partial clone does';

/** Takes the contents of one old file away, as in a clone that was made with a filter. */
function forget(repository: string, path: string): void {
  const blob = git(repository, 'rev-parse', path).trim();
  unlinkSync(join(repository, '.git/objects', blob.slice(0, 2), blob.slice(2)));
}

const asPartialClone = (url: string): readonly (readonly [string, string])[] => [
  ['core.repositoryFormatVersion', '1'],
  ['extensions.partialClone', 'origin'],
  ['remote.origin.promisor', 'true'],
  ['remote.origin.url', url],
];

function configure(repository: string, settings: readonly (readonly [string, string])[]): void {
  for (const [key, value] of settings) git(repository, 'config', key, value);
}

const SIZES_OF_ALL = ['ls-tree', '-r', '--long', 'HEAD~1'];

describe.skipIf(process.platform === 'win32')('nothing that a repository names is started', () => {
  test('by a bare repository among the files of a plain clone', async () => {
    const { top, trial, program, ran } = trap();
    for (const name of ['HEAD', 'objects', 'refs']) {
      cpSync(join(top, '.git', name), join(trial, name), { recursive: true });
    }
    writeFileSync(
      join(trial, 'config'),
      `[core]\n\trepositoryFormatVersion = 1\n\tbare = false\n\tworktree = .\n[extensions]\n\tpartialClone = origin\n[remote "origin"]\n\turl = ext::${program}\n\tpromisor = true\n[protocol "ext"]\n\tallow = always\n`,
    );
    const old = git(top, 'rev-parse', 'HEAD~1:trial/seasons/2026.yaml').trim();
    unlinkSync(join(trial, 'objects', old.slice(0, 2), old.slice(2)));
    // Folders that git would not track when they are empty are not needed for the trap.
    git(top, 'add', '--all', '--force');
    git(top, 'commit', '--quiet', '-m', 'Lay the trap');
    const cloned = join(top, '..', 'cloned');
    git(join(top, '..'), 'clone', '--quiet', 'repository', 'cloned');
    const there = join(cloned, 'trial');
    expect(readdirSync(there)).toContain('HEAD');

    tryGit(there, ['-c', 'safe.bareRepository=all', ...SIZES_OF_ALL]);
    expect(ran(), 'plain git starts it').toBe(true);

    for (const revision of ['HEAD~1', 'HEAD', '2026-09-10', 'main']) {
      const { status, out, err } = await changes(there, '--since', revision);
      expect(ran(), revision).toBe(false);
      expect(status).toBe(3);
      expect(out).toBe('');
      expect(err).toContain('make it a bare repository, whose settings may come from a stranger');
    }
  });

  // What the missing object would be asked of: a program, a shell by ssh, a program of this machine.
  test.each<[string, (program: string) => readonly (readonly [string, string])[]]>([
    ['ext', (program) => [...asPartialClone(`ext::${program}`), ['protocol.ext.allow', 'always']]],
    [
      'ssh',
      (program) => [
        ...asPartialClone('ssh://localhost/x.git'),
        ['protocol.allow', 'always'],
        ['core.sshCommand', program],
      ],
    ],
    ['upload-pack', (program) => [...asPartialClone('.'), ['remote.origin.uploadpack', program]]],
  ])('to fetch what a partial clone lacks, by %s', async (_, settings) => {
    const { top, trial, program, ran } = trap();
    configure(top, settings(program));
    forget(top, 'HEAD~1:trial/seasons/2026.yaml');
    tryGit(top, SIZES_OF_ALL);
    expect(ran(), 'plain git starts it').toBe(true);

    const { status, out, err } = await changes(trial, '--since', 'HEAD~1');
    expect(ran()).toBe(false);
    expect(err).toContain(LACKS);
    expect(err).toContain('git fetch --refetch --no-filter');
    expect([status, out]).toEqual([3, '']);
  });

  test.each<[string, (trap: Trap) => void, readonly string[]]>([
    [
      'a hook',
      ({ top, program }) => cpSync(program, join(top, '.git/hooks/post-checkout')),
      ['checkout', '--quiet', 'HEAD'],
    ],
    [
      'a hook elsewhere',
      ({ top, program }) => {
        mkdirSync(join(top, 'hooks'));
        cpSync(program, join(top, 'hooks/post-checkout'));
        configure(top, [['core.hooksPath', join(top, 'hooks')]]);
      },
      ['checkout', '--quiet', 'HEAD'],
    ],
    ['fsmonitor', ({ top, program }) => configure(top, [['core.fsmonitor', program]]), ['status']],
    [
      'a filter',
      ({ top, program }) => {
        writeFileSync(join(top, '.git/info/attributes'), '*.yaml filter=odd\n');
        configure(top, [
          ['filter.odd.smudge', program],
          ['filter.odd.clean', program],
          ['filter.odd.required', 'true'],
        ]);
      },
      ['cat-file', '--filters', 'HEAD:trial/ledger.yaml'],
    ],
    [
      'an external diff',
      ({ top, program }) => configure(top, [['diff.external', program]]),
      ['diff', 'HEAD~1'],
    ],
    [
      'textconv',
      ({ top, program }) => {
        writeFileSync(join(top, '.git/info/attributes'), '*.yaml diff=odd\n');
        configure(top, [['diff.odd.textconv', program]]);
      },
      ['log', '-p'],
    ],
    [
      'an alias',
      ({ top, program }) =>
        configure(
          top,
          ['odd', 'log', 'ls-tree', 'cat-file', 'rev-parse', 'rev-list'].map(
            (name) => [`alias.${name}`, `!${program}`] as const,
          ),
        ),
      ['odd'],
    ],
    [
      'the program that checks signatures',
      ({ top, program }) => {
        const [head = '', ...message] = git(top, 'cat-file', 'commit', 'HEAD').split('\n\n');
        const signature =
          'gpgsig -----BEGIN PGP SIGNATURE-----\n \n abcd\n -----END PGP SIGNATURE-----';
        writeFileSync(join(top, '.git/odd'), [`${head}\n${signature}`, ...message].join('\n\n'));
        const signed = git(top, 'hash-object', '-t', 'commit', '-w', '.git/odd').trim();
        git(top, 'update-ref', 'HEAD', signed);
        configure(top, [
          ['gpg.program', program],
          ['log.showSignature', 'true'],
        ]);
      },
      ['log', '-1'],
    ],
  ])('by %s', async (_, lay, plain) => {
    const laid = trap();
    lay(laid);
    tryGit(laid.top, plain);
    expect(laid.ran(), 'plain git starts it').toBe(true);

    configure(laid.top, [['core.pager', laid.program]]);
    for (const argv of [
      ['--since', 'HEAD~1'],
      ['--since', 'HEAD~1', '--until', 'HEAD'],
    ]) {
      const { status, err } = await changes(laid.trial, ...argv);
      expect(laid.ran()).toBe(false);
      expect([status, err]).toEqual([0, '']);
    }
  });
});

describe('nothing is fetched', () => {
  test('from the server of a partial clone', async () => {
    const { top, trial } = trap();
    const seen = join(top, '..', 'requests');
    writeFileSync(seen, '');
    // A process of its own, since git keeps this one waiting.
    const server = spawn(process.execPath, ['-e', SERVER, seen], { stdio: 'pipe' });
    try {
      const port = await new Promise<string>((resolve) => {
        server.stdout.once('data', (bytes: Buffer) => resolve(bytes.toString('utf8').trim()));
      });
      configure(top, asPartialClone(`http://127.0.0.1:${port}/x.git`));
      forget(top, 'HEAD~1:trial/seasons/2026.yaml');
      tryGit(top, SIZES_OF_ALL);
      expect(readFileSync(seen, 'utf8'), 'plain git asks it').toContain('/x.git/info/refs');

      writeFileSync(seen, '');
      const lacking = await changes(trial, '--since', 'HEAD~1');
      expect(lacking.err).toContain(LACKS);
      expect(lacking.status).toBe(3);
      // What is there is read all the same, whatever lacks elsewhere.
      const whole = await changes(trial, '--since', 'HEAD');
      expect([whole.status, whole.err]).toEqual([0, '']);
      expect(readFileSync(seen, 'utf8')).toBe('');
    } finally {
      server.kill();
    }
  });

  test('for files far from the ledger, which are not even looked at', async () => {
    const { top, trial } = trap();
    writeFileSync(join(top, 'far.txt'), 'far from the ledger\n');
    writeFileSync(join(trial, 'photo.txt'), 'no file of the ledger\n');
    git(top, 'add', '--all');
    git(top, 'commit', '--quiet', '-m', 'Add others');
    configure(top, asPartialClone('file:///nowhere'));
    forget(top, 'HEAD:far.txt');
    forget(top, 'HEAD:trial/photo.txt');
    const { status, err } = await changes(trial, '--since', 'HEAD');
    expect([status, err]).toEqual([0, '']);
  });
});

/** Writes each request into a file and has nothing to give; ends by itself after some minutes. */
const SERVER = `
const { appendFileSync } = require('node:fs');
const server = require('node:http').createServer((request, response) => {
  appendFileSync(process.argv[1], request.url + '\\n');
  response.writeHead(404).end();
});
server.listen(0, '127.0.0.1', () => console.log(server.address().port));
setTimeout(() => process.exit(), 300_000);
`;
