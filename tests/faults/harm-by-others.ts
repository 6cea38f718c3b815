import { readFileSync, rmSync } from 'node:fs';
import { dirname } from 'node:path';
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

/** Many processes write at once: every entry is there, once. */
export const crowd: Fault = async (scene, { writers, entriesEach }) => {
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
export const killed: Fault = async (scene, { killedWrites }) => {
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
    await sleep(Math.random() * 300);
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

/** Some are killed while others write: the others lose nothing and do not wait for ever. */
export const killedAmongOthers: Fault = async (scene, { writers, entriesEach }) => {
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

/** There is no file yet and many begin it at once. */
export const beginTogether: Fault = async (scene, { writers }) => {
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
