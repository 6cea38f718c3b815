import { basename, join, resolve } from 'node:path';
import { errorRules } from '../checks/index.ts';
import type { LocatedDiagnostic } from '../diagnostics/diagnostic.ts';
import type { Ledger } from '../model/ledger.ts';
import { visible } from '../source/visible.ts';
import { EXIT, Finished } from './exit.ts';
import { findLedger, pathsOf } from './find-ledger.ts';
import { FileFault, type Host } from './host.ts';
import { lookOf } from './look.ts';
import { type GlobalOptions, readAndCheck } from './open-ledger.ts';

/** A garden beside home, as its folder was named. */
export interface OtherGarden {
  readonly folder: string;
  readonly ledger: Ledger;
}

export interface OpenedGardens {
  readonly others: readonly OtherGarden[];
  /** Folders that were named and take no part, and why. */
  readonly leftOut: readonly { readonly folder: string; readonly why: string }[];
}

/** Errors of one garden that are shown; its keeper has to put them right, not whoever pools. */
const MOST_SHOWN = 3;
const HAS_ERRORS = 'it has errors';

/**
 * The ledgers of other gardens: files of strangers, which are read and nothing else. A folder that is no ledger ends the
 * command; one that is home, that was named before, that has errors or leads out of itself is left out, which is said.
 *
 * Throws a `UsageError` or a `FileFault` for a folder that was named wrongly, and ends with the status of errors where
 * they leave no garden.
 */
export async function openGardens(
  host: Host,
  options: GlobalOptions,
  home: Ledger,
  folders: readonly string[],
): Promise<OpenedGardens> {
  const homeFolder = host.files.realPath(findLedger(host, options.ledger));
  const found = folders.map((folder) => ({
    folder,
    path: host.files.realPath(findLedger(host, folder)),
  }));
  const read: ReadGarden[] = [];
  const seen = new Map([[homeFolder, 'home']]);
  for (const { folder, path } of found) {
    const before = seen.get(path);
    if (before !== undefined) {
      // A pattern such as ../* names home as well, and nobody wants to hear of that.
      if (before !== 'home') say(host, folder, `is the same folder as ${before} and counts once`);
      continue;
    }
    seen.set(path, folder);
    read.push({ folder, garden: await readGarden(host, options, folder, path) });
  }
  const { others, leftOut } = gardensApart(home, read);
  for (const { folder, why } of leftOut) say(host, folder, `takes no part: ${why}`);
  if (others.length === 0 && leftOut.some(({ why }) => why.startsWith(HAS_ERRORS))) {
    host.stderr.write('Nothing is computed from a garden with errors, and no other is left.\n');
    throw new Finished(EXIT.ledgerErrors);
  }
  return { others, leftOut };
}

/** A folder with its ledger, or why that takes no part. */
interface ReadGarden {
  readonly folder: string;
  readonly garden: Ledger | string;
}

/** Without those that are home or one another again, or that grow another fruit. */
export function gardensApart(home: Ledger, read: readonly ReadGarden[]): OpenedGardens {
  const others: OtherGarden[] = [];
  const leftOut: { folder: string; why: string }[] = [];
  const written = new Map([[textOf(home), 'home']]);
  for (const { folder, garden } of read) {
    const why = typeof garden === 'string' ? garden : notWith(home, garden, written);
    if (why !== undefined) leftOut.push({ folder, why });
    else if (typeof garden !== 'string') {
      written.set(textOf(garden), folder);
      others.push({ folder, ledger: garden });
    }
  }
  return { others, leftOut };
}

function notWith(
  home: Ledger,
  garden: Ledger,
  written: ReadonlyMap<string, string>,
): string | undefined {
  const twin = written.get(textOf(garden));
  if (twin !== undefined) return `its trees and seasons are word for word those of ${twin}`;
  const { fruit } = garden.trial;
  const isSame = fruit.toLowerCase() === home.trial.fruit.toLowerCase();
  return isSame ? undefined : `its fruit is ${fruit}, not ${home.trial.fruit}`;
}

/** The ledger, or why it takes no part. */
async function readGarden(
  host: Host,
  options: GlobalOptions,
  folder: string,
  path: string,
): Promise<Ledger | string> {
  try {
    const outside = leadsOut(host, path);
    if (outside !== undefined) return `${outside} is a link to a place outside its folder`;
    const { ledger, diagnostics } = readAndCheck(host, { ...options, ledger: path }, errorRules);
    const errors = diagnostics.filter(({ severity }) => severity === 'error');
    if (ledger !== undefined && errors.length === 0) return ledger;
    await showErrors(host, options, folder, errors);
    return `${HAS_ERRORS}${errors.length === 1 ? '' : ` (${errors.length})`}`;
  } catch (thrown) {
    if (!(thrown instanceof FileFault)) throw thrown;
    return `${thrown.path.startsWith(path) ? thrown.path.slice(path.length + 1) : thrown.path}: ${thrown.message}`;
  }
}

/** The first file or folder of a ledger that is not inside it, whatever links are in between. */
function leadsOut(host: Host, folder: string): string | undefined {
  const isOutside = (name: string) => {
    const full = join(folder, name);
    if (host.files.kind(full) === 'none') return false;
    const real = host.files.realPath(full);
    return real !== resolve(folder, name) && !real.startsWith(join(folder, '/'));
  };
  // The folders first: what stands in them is not even listed where they lead away.
  return ['seasons', 'weather'].find(isOutside) ?? pathsOf(host, folder).find(isOutside);
}

async function showErrors(
  host: Host,
  options: GlobalOptions,
  folder: string,
  errors: readonly LocatedDiagnostic[],
): Promise<void> {
  const { renderDiagnostics } = await import('../render/diagnostics-text.ts');
  const look = lookOf(host, host.stderr, !options.color);
  host.stderr.write(`In ${visible(folder)}:\n`);
  host.stderr.write(renderDiagnostics(errors, look, { atMost: MOST_SHOWN }));
}

function say(host: Host, folder: string, what: string): void {
  host.stderr.write(`pomary: ${visible(`${folder} ${what}`)}\n`);
}

/** What was typed of trees and seasons, which two gardens never share. */
function textOf({ files }: Ledger): string {
  return [...files]
    .filter(([path]) => path === 'trees.yaml' || path.startsWith('seasons/'))
    .map(([path, { text }]) => `${path}\n${text}`)
    .toSorted()
    .join('\n');
}

/** What people call a garden; with its folder behind where another one is called the same. */
export function gardenNames(ledgers: readonly Ledger[], folders: readonly string[]): string[] {
  const names = ledgers.map(({ trial }) => trial.place.name ?? trial.title);
  return names.map((name, at) =>
    names.indexOf(name) === names.lastIndexOf(name)
      ? name
      : `${name} (${basename(resolve(folders[at] ?? '')) || folders[at]})`,
  );
}
