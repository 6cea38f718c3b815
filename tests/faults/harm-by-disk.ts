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
import type { Fault } from './outcome.ts';
import {
  BEGUN,
  leftBehind,
  makeLedger,
  notesIn,
  seasonFile,
  startWriter,
  untilItSpeaks,
} from './scene.ts';

/** A small disk is full: the old file stays whole, and works again when there is room. */
export const fullDisk: Fault = async (scene) => {
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
export const readOnly: Fault = async (scene) => {
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
export const links: Fault = async (scene) => {
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

/** Milliseconds. */
const PATIENCE = 20_000;

/** The ledger folder is moved away: a plain word, and no new folder in its place. */
export const vanished: Fault = async (scene) => {
  const ledger = makeLedger(scene, 'vanished');
  const running = startWriter(scene, ledger, 10_000, 'w');
  await untilItSpeaks(running.process.stdout);
  renameSync(ledger, `${ledger}-moved`);
  // A busy machine may let it try again only after a while.
  await Promise.race([
    untilItSpeaks(running.process.stdout, 'no '),
    sleep(PATIENCE, undefined, { ref: false }),
  ]);
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
