import { type ChildProcess, spawn } from 'node:child_process';
import {
  chmodSync,
  existsSync,
  mkdirSync,
  mkdtempSync,
  readdirSync,
  readFileSync,
  rmSync,
  utimesSync,
  writeFileSync,
} from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { build } from 'esbuild';
import { parse } from 'yaml';

/** A folder with the writer as one file of JavaScript, and ledgers to ill-treat. */
export interface Scene {
  readonly folder: string;
  readonly writer: string;
  remove(): void;
}

export const BEGUN = '# kept by hand\nseason: 2026 # the wet year\n\npicks:\n';

export async function makeScene(): Promise<Scene> {
  const folder = mkdtempSync(join(tmpdir(), 'pomary-faults-'));
  // Another account must be able to enter it.
  chmodSync(folder, 0o755);
  const writer = join(folder, 'writer.mjs');
  await build({
    entryPoints: [fileURLToPath(new URL('writer.ts', import.meta.url))],
    bundle: true,
    platform: 'node',
    format: 'esm',
    target: 'node20',
    outfile: writer,
    logLevel: 'error',
    banner: {
      js: "import{createRequire as requireFor}from'node:module';const require=requireFor(import.meta.url);",
    },
  });
  return { folder, writer, remove: () => rmSync(folder, { recursive: true, force: true }) };
}

/** A ledger folder with a season file that says `text`, saved a minute ago. */
export function makeLedger(scene: Scene, name: string, text: string | undefined = BEGUN): string {
  const ledger = join(scene.folder, name);
  mkdirSync(join(ledger, 'seasons'), { recursive: true });
  if (text !== undefined) {
    writeFileSync(seasonFile(ledger), text);
    const then = Date.now() / 1000 - 60;
    utimesSync(seasonFile(ledger), then, then);
  }
  return ledger;
}

export function seasonFile(ledger: string): string {
  return join(ledger, 'seasons', '2026.yaml');
}

export interface Running {
  readonly process: ChildProcess;
  /** What it said, a line an entry, when it has ended. */
  readonly ended: Promise<readonly string[]>;
}

export function startWriter(
  scene: Scene,
  ledger: string,
  count: number,
  name: string,
  uid?: number,
): Running {
  const child = spawn(process.execPath, [scene.writer, ledger, String(count), name], {
    stdio: ['ignore', 'pipe', 'pipe'],
    ...(uid === undefined ? {} : { uid, gid: uid }),
  });
  let said = '';
  child.stdout.on('data', (chunk: Buffer) => {
    said += chunk.toString();
  });
  child.stderr.on('data', (chunk: Buffer) => {
    said += `error ${chunk.toString()}`;
  });
  const ended = new Promise<readonly string[]>((resolve) => {
    child.on('close', () => resolve(said.split('\n').filter((line) => line !== '')));
  });
  return { process: child, ended };
}

/** Waits until a process says something, or a certain word, or ends. */
export async function untilItSpeaks(
  stream: NodeJS.ReadableStream | null,
  word = '',
): Promise<void> {
  let said = '';
  await new Promise<void>((resolve) => {
    stream?.on('data', (chunk: unknown) => {
      said += String(chunk);
      if (said.includes(word)) resolve();
    });
    stream?.once('close', () => resolve());
  });
}

/** Notes of the picks in a season file, in the order of the file. Throws where it is not whole. */
export function notesIn(ledger: string): readonly string[] {
  const text = readFileSync(seasonFile(ledger), 'utf8');
  const value = parse(text) as { season: number; picks: { note: string }[] | null };
  if (value.season !== 2026) throw new Error('the file has lost its beginning');
  return (value.picks ?? []).map(({ note }) => note);
}

/** Files beside the season file that should not be there. */
export function leftBehind(ledger: string): readonly string[] {
  const folder = join(ledger, 'seasons');
  return existsSync(folder) ? readdirSync(folder).filter((name) => name !== '2026.yaml') : [];
}
