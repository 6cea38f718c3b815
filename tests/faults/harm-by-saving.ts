import { existsSync, readFileSync } from 'node:fs';
import { type FileHandle, open } from 'node:fs/promises';
import { join } from 'node:path';
import { setTimeout as sleep } from 'node:timers/promises';
import type { Effort, Fault, Outcome } from './outcome.ts';
import { BEGUN, makeLedger, notesIn, type Scene, seasonFile, startWriter } from './scene.ts';

const OLD = Array.from({ length: 200 }, (_, number) => `old-${number}`);
const LONG = `${BEGUN}${OLD.map(line).join('')}`;
/** How long an editor, a program that syncs or a network drive takes between two steps, ms. */
const PAUSE = 500;

function line(note: string): string {
  return `  - { on: 2026-07-30, tree: G3, crop: early, fruit: 1, note: ${note} }\n`;
}

/** The file is emptied, half a second later it is written. */
export const emptySave: Fault = (scene, effort) =>
  whileSaved(scene, effort, { name: 'an editor empties the file first', writers: 1, rest: 0 });

/** What is there for half a second ends with a line and reads as a whole season. */
export const cutSave: Fault = (scene, effort) =>
  whileSaved(scene, effort, { name: 'an editor writes in two parts', writers: 1, rest: 1000 });

export const savesAmongWriters: Fault = (scene, effort) =>
  whileSaved(scene, effort, { name: 'an editor among writers', writers: 3, rest: 0 });

interface Saving {
  readonly name: string;
  readonly writers: number;
  /** About how many bytes are there during the pause. */
  readonly rest: number;
}

async function whileSaved(
  scene: Scene,
  { saves }: Effort,
  { name, writers, rest }: Saving,
): Promise<Outcome> {
  const problems: string[] = [];
  const counts = { saves, inPlace: 0, besideIt: 0 };
  for (let round = 0; round < saves; round++) {
    const ledger = makeLedger(scene, `${name.replaceAll(' ', '-')}-${round}`, LONG);
    const running = Array.from({ length: writers }, (_, index) =>
      startWriter(scene, ledger, 3, `w${round}-${index}`),
    );
    await sleep(Math.random() * 400);
    await saveSlowly(seasonFile(ledger), `hand-${round}`, rest);
    const said = (await Promise.all(running.map(({ ended }) => ended))).flat();
    const last = await startWriter(scene, ledger, 1, `last-${round}`).ended;
    const told = [...said, ...last];
    problems.push(...told.filter((one) => !one.startsWith('ok ')));
    const notes = new Set(notesIn(ledger));
    const wanted = [...OLD, ...told.map((one) => one.slice(3))];
    const lost = wanted.filter((one) => !notes.has(one));
    if (lost.length > 0) problems.push(`round ${round}: ${lost.length} lost, ${lost[0]} ...`);
    const beside = join(ledger, 'seasons', '2026.yaml.also-saved');
    if (notes.has(`hand-${round}`)) counts.inPlace++;
    else if (existsSync(beside) && readFileSync(beside, 'utf8').includes(`hand-${round}`)) {
      counts.besideIt++;
    } else problems.push(`round ${round}: what the editor saved is lost`);
  }
  return { fault: `${name}, ${writers} writing`, counts, problems };
}

/** As an editor that has the file open: its text with a line more, in place. */
async function saveSlowly(path: string, note: string, rest: number): Promise<void> {
  const file: FileHandle = await open(path, 'r+');
  try {
    const text = await file.readFile('utf8');
    const whole = Buffer.from(`${text}${line(note)}`);
    const cut = rest === 0 ? 0 : whole.lastIndexOf('\n', rest) + 1;
    await file.truncate(cut);
    await sleep(PAUSE);
    await file.write(whole, cut, whole.length - cut, cut);
  } finally {
    await file.close();
  }
}
