import { spawnSync } from 'node:child_process';
import {
  chmodSync,
  existsSync,
  lstatSync,
  mkdirSync,
  readFileSync,
  renameSync,
  rmSync,
  statSync,
  symlinkSync,
  writeFileSync,
} from 'node:fs';
import { dirname, join } from 'node:path';
import { setTimeout as sleep } from 'node:timers/promises';
import {
  BEGUN,
  leftBehind,
  makeLedger,
  notesIn,
  type Scene,
  seasonFile,
  startWriter,
} from './scene.ts';

/** How hard to try. */
export interface Effort {
  readonly writers: number;
  readonly entriesEach: number;
  /** Writes during which processes are killed. */
  readonly killedWrites: number;
}

export const FULL: Effort = { writers: 8, entriesEach: 50, killedWrites: 500 };
export const LIGHT: Effort = { writers: 3, entriesEach: 8, killedWrites: 30 };

/** What one fault did. `skipped` says why it could not be tried here. */
export interface Outcome {
  readonly fault: string;
  readonly counts: Readonly<Record<string, number>>;
  readonly problems: readonly string[];
  readonly skipped?: string;
}

type Fault = (scene: Scene, effort: Effort) => Promise<Outcome>;

/** Many processes write at once: every entry is there, once. */
const crowd: Fault = async (scene, { writers, entriesEach }) => {
  const ledger = makeLedger(scene, 'crowd');
  const running = Array.from({ length: writers }, (_, index) =>
    startWriter(scene, ledger, entriesEach, `w${index}`),
  );
  const said = (await Promise.all(running.map(({ ended }) => ended))).flat();
  const notes = notesIn(ledger);
  const wanted = writers * entriesEach;
  return {
    fault: `${writers} processes each add ${entriesEach} entries at once`,
    counts: { wanted, found: notes.length, different: new Set(notes).size },
    problems: [
      ...said.filter((line) => !line.startsWith('ok')),
      ...(notes.length === wanted && new Set(notes).size === wanted ? [] : ['entries are missing']),
      ...orderProblems(ledger),
      ...leftBehind(ledger),
    ],
  };
};

function orderProblems(ledger: string): readonly string[] {
  const text = readFileSync(seasonFile(ledger), 'utf8');
  const dates = [...text.matchAll(/on: (\S+),/g)].map((found) => found[1] ?? '');
  const sorted = JSON.stringify(dates) === JSON.stringify(dates.toSorted());
  return [
    ...(sorted ? [] : ['entries are out of order']),
    ...(text.startsWith(BEGUN) ? [] : ['the beginning of the file changed']),
  ];
}

/** Writers are killed at random moments: the file is always whole, and what was said to be written is there. */
const killed: Fault = async (scene, { killedWrites }) => {
  const ledger = makeLedger(scene, 'killed');
  const problems: string[] = [];
  const acknowledged: string[] = [];
  let kills = 0;
  let inLock = 0;
  for (let round = 0; acknowledged.length < killedWrites; round++) {
    const name = `k${round}`;
    const running = startWriter(scene, ledger, killedWrites, name);
    // A process takes some time to start; the kill falls anywhere in its first writes.
    await untilItSpeaks(running.process.stdout);
    await sleep(Math.random() * 120);
    running.process.kill('SIGKILL');
    const said = await running.ended;
    kills++;
    if (leftBehind(ledger).some((file) => file.endsWith('.lock'))) inLock++;
    const mine = said.filter((line) => line.startsWith('ok ')).map((line) => line.slice(3));
    problems.push(...said.filter((line) => !line.startsWith('ok ')));
    acknowledged.push(...mine);
    const notes = notesIn(ledger);
    const own = notes.filter((note) => note.startsWith(`${name}-`));
    // At most one more than was acknowledged: the write was done, the word was not said.
    if (own.length < mine.length || own.length > mine.length + 1) {
      problems.push(`${name}: ${mine.length} acknowledged, ${own.length} found`);
    }
    const numbers = own.map((note) => Number(note.split('-')[1])).sort((a, b) => a - b);
    if (numbers.some((number, index) => number !== index)) problems.push(`${name}: a gap`);
  }
  const notes = new Set(notesIn(ledger));
  const lost = acknowledged.filter((note) => !notes.has(note));
  if (lost.length > 0) problems.push(`lost: ${lost.join(' ')}`);
  // One more writer clears what the dead ones left.
  const last = await startWriter(scene, ledger, 1, 'last').ended;
  if (last[0] !== 'ok last-0') problems.push(`afterwards: ${last.join(' ')}`);
  problems.push(...leftBehind(ledger), ...orderProblems(ledger));
  return {
    fault: 'kill -9 at random moments',
    counts: { kills, whileLocked: inLock, acknowledged: acknowledged.length, lost: lost.length },
    problems,
  };
};

async function untilItSpeaks(stream: NodeJS.ReadableStream | null): Promise<void> {
  await new Promise<void>((resolve) => {
    stream?.once('data', () => resolve());
    stream?.once('close', () => resolve());
  });
}

/** Some are killed while others write: the others lose nothing and do not wait for ever. */
const killedAmongOthers: Fault = async (scene, { writers, entriesEach }) => {
  const ledger = makeLedger(scene, 'among');
  const running = Array.from({ length: writers }, (_, index) =>
    startWriter(scene, ledger, entriesEach, `w${index}`),
  );
  const victims = running.slice(0, Math.max(1, Math.floor(writers / 3)));
  const others = running.slice(victims.length);
  for (const { process } of victims) {
    await sleep(60 + Math.random() * 300);
    process.kill('SIGKILL');
  }
  const said = (await Promise.all(others.map(({ ended }) => ended))).flat();
  const dead = (await Promise.all(victims.map(({ ended }) => ended))).flat();
  const wanted = [...said, ...dead].filter((line) => line.startsWith('ok ')).map((l) => l.slice(3));
  const notes = new Set(notesIn(ledger));
  const lost = wanted.filter((note) => !notes.has(note));
  const whole = said.length === others.length * entriesEach;
  return {
    fault: `${victims.length} of ${writers} writers are killed while the others write`,
    counts: { survivors: others.length, acknowledged: wanted.length, lost: lost.length },
    problems: [
      ...lost,
      ...(whole ? [] : ['a survivor did not finish']),
      ...said.filter((line) => !line.startsWith('ok ')),
    ],
  };
};

/** A small disk is full: the old file stays whole, and works again when there is room. */
const fullDisk: Fault = async (scene) => {
  const fault = 'the disk is full';
  const disk = join(scene.folder, 'disk');
  mkdirSync(disk);
  const mounted = spawnSync('mount', ['-t', 'tmpfs', '-o', 'size=64k', 'tmpfs', disk]);
  if (mounted.status !== 0) {
    return { fault, counts: {}, problems: [], skipped: 'a small disk cannot be mounted here' };
  }
  try {
    const ledger = makeLedger(scene, join('disk', 'ledger'));
    await startWriter(scene, ledger, 3, 'before').ended;
    const old = readFileSync(seasonFile(ledger), 'utf8');
    fillUp(join(disk, 'ballast'));
    const said = await startWriter(scene, ledger, 3, 'full').ended;
    const kept = readFileSync(seasonFile(ledger), 'utf8') === old;
    const left = leftBehind(ledger);
    rmSync(join(disk, 'ballast'));
    const after = await startWriter(scene, ledger, 2, 'after').ended;
    return {
      fault,
      counts: { refused: said.length, keptWhole: Number(kept), writtenAfter: after.length },
      problems: [
        ...said.filter((line) => line !== 'no ENOSPC'),
        ...after.filter((line) => !line.startsWith('ok ')),
        ...(kept ? [] : ['the old file changed']),
        ...left,
      ],
    };
  } finally {
    spawnSync('umount', [disk]);
  }
};

function fillUp(path: string): void {
  for (let size = 64 * 1024; size > 0; size -= 1024) {
    try {
      writeFileSync(path, Buffer.alloc(size));
      return;
    } catch {
      // Too large yet.
    }
  }
}

/** An account that may not write there: a plain word, nothing changed. */
const readOnly: Fault = async (scene) => {
  const fault = 'the folder may not be written';
  const ledger = makeLedger(scene, 'read-only');
  const folder = dirname(seasonFile(ledger));
  chmodSync(folder, 0o555);
  const isRoot = process.getuid?.() === 0;
  const said = await startWriter(scene, ledger, 2, 'w', isRoot ? 65534 : undefined).ended;
  chmodSync(folder, 0o755);
  const kept = readFileSync(seasonFile(ledger), 'utf8') === BEGUN;
  return {
    fault,
    counts: { refused: said.length, keptWhole: Number(kept) },
    problems: [
      ...said.filter((line) => line !== 'no EACCES'),
      ...(kept ? [] : ['the old file changed']),
      ...leftBehind(ledger),
    ],
  };
};

/** The file is a link: the link stays, what it leads to is written; one that leads nowhere is refused. */
const links: Fault = async (scene) => {
  const ledger = makeLedger(scene, 'links');
  const file = seasonFile(ledger);
  const real = join(scene.folder, 'real.yaml');
  renameSync(file, real);
  chmodSync(real, 0o640);
  symlinkSync(real, file);
  const said = await startWriter(scene, ledger, 2, 'linked').ended;
  const isLink = lstatSync(file).isSymbolicLink();
  const mode = statSync(real).mode & 0o777;
  const found = notesIn(ledger).length;
  rmSync(real);
  const nowhere = await startWriter(scene, ledger, 1, 'nowhere').ended;
  rmSync(file);
  symlinkSync(file, file);
  const circle = await startWriter(scene, ledger, 1, 'circle').ended;
  return {
    fault: 'the file is a link',
    counts: { written: found, linkKept: Number(isLink), modeKept: Number(mode === 0o640) },
    problems: [
      ...said.filter((line) => !line.startsWith('ok ')),
      ...(found === 2 ? [] : ['entries are missing']),
      ...(isLink ? [] : ['the link was replaced']),
      ...(mode === 0o640 ? [] : [`the mode is ${mode.toString(8)}`]),
      ...(nowhere[0] === 'no ENOENT' ? [] : [`nowhere: ${nowhere.join(' ')}`]),
      ...(circle[0] === 'no ELOOP' ? [] : [`circle: ${circle.join(' ')}`]),
    ],
  };
};

/** The ledger folder is moved away: a plain word, and no new folder in its place. */
const vanished: Fault = async (scene) => {
  const ledger = makeLedger(scene, 'vanished');
  const running = startWriter(scene, ledger, 10_000, 'w');
  await untilItSpeaks(running.process.stdout);
  renameSync(ledger, `${ledger}-moved`);
  await sleep(100);
  running.process.kill('SIGKILL');
  const said = await running.ended;
  const written = said.filter((line) => line.startsWith('ok ')).length;
  const refused = said.filter((line) => line === 'no ENOENT').length;
  const found = notesIn(`${ledger}-moved`).length;
  return {
    fault: 'the ledger folder is moved away while a process writes',
    counts: { acknowledged: written, found, refused },
    problems: [
      ...said.filter((line) => !/^(?:ok |no ENOENT)/.test(line)),
      ...(found >= written && found <= written + 1 ? [] : ['entries are missing']),
      ...(refused > 0 ? [] : ['nobody was told']),
      ...(existsSync(ledger) ? ['the folder was made anew'] : []),
    ],
  };
};

/** There is no file yet and many begin it at once. */
const beginTogether: Fault = async (scene, { writers }) => {
  const ledger = makeLedger(scene, 'begin', undefined);
  const file = seasonFile(ledger);
  rmSync(dirname(file), { recursive: true });
  const running = Array.from({ length: writers }, (_, index) =>
    startWriter(scene, ledger, 2, `b${index}`),
  );
  const said = (await Promise.all(running.map(({ ended }) => ended))).flat();
  const notes = notesIn(ledger);
  return {
    fault: `${writers} processes begin a season file at once`,
    counts: { wanted: writers * 2, found: notes.length },
    problems: [
      ...said.filter((line) => !line.startsWith('ok ')),
      ...(new Set(notes).size === writers * 2 ? [] : ['entries are missing']),
      ...leftBehind(ledger),
    ],
  };
};

export const FAULTS: readonly Fault[] = [
  crowd,
  beginTogether,
  killed,
  killedAmongOthers,
  fullDisk,
  readOnly,
  links,
  vanished,
];
