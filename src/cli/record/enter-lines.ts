import type { IsoDate } from '../../model/dates.ts';
import type { SourceFile } from '../../source/source-file.ts';
import { EXIT, Finished } from '../exit.ts';
import { lookOf } from '../look.ts';
import type { Desk } from './desk.ts';
import { ledgerSoFar } from './ledger-so-far.ts';
import { linesAgain, readLines, type TypedLine } from './read-lines.ts';
import { sortEntries } from './sort-entries.ts';
import {
  handBack,
  saidLines,
  tellDiagnostics,
  tellDiff,
  tellFailure,
  tellWritten,
} from './tell.ts';
import { dayLines } from './tell-days.ts';
import { writePlan } from './write-plan.ts';

export interface EnterOptions {
  readonly color: boolean;
  readonly dryRun: boolean;
  readonly keepGood: boolean;
  /** Tell every entry back, however many there are. */
  readonly echo: boolean;
}

/** So many entries are told back whole; of more, what each day has. */
const TOLD_WHOLE = 20;

/**
 * Writes a text of shorthand from a file or a pipe. All lines are checked first; with anything wrong
 * nothing is written, unless the good ones are to be kept and the others handed back.
 */
export async function enterLines(
  desk: Desk,
  file: SourceFile,
  date: IsoDate,
  options: EnterOptions,
): Promise<void> {
  const { host } = desk;
  const read = readLines(file, (entered) => ledgerSoFar(desk, entered), desk.today, date);
  const sorted = sortEntries(desk, read);
  const { plan, faulty } = sorted;
  const noColor = !options.color;
  tellDiagnostics(host, noColor, sorted.said);
  const status = sorted.isFaulty ? EXIT.ledgerErrors : EXIT.done;
  if (sorted.isFaulty && (!options.keepGood || sorted.isHopeless)) {
    host.stderr.write('Nothing was written.\n');
    throw new Finished(status);
  }
  if (options.dryRun) tellDiff(host, plan.files);
  else {
    const { written, failure } = await writePlan(desk, plan);
    if (options.echo || written.length <= TOLD_WHOLE) tellWritten(desk, written);
    else {
      for (const line of dayLines(written.map(({ entry }) => entry))) {
        host.stdout.write(saidLines('', line, lookOf(host, host.stdout, true)));
      }
    }
    if (failure !== undefined) {
      handBackLines(desk, faulty);
      throw new Finished(tellFailure(host, noColor, failure));
    }
    const count = written.length === 1 ? '1 entry' : `${written.length} entries`;
    host.stdout.write(written.length === 0 ? 'No entries.\n' : `${count} written.\n`);
  }
  handBackLines(desk, faulty);
  if (status !== EXIT.done) throw new Finished(status);
}

function handBackLines({ host }: Desk, lines: readonly TypedLine[]): void {
  if (lines.length === 0) return;
  handBack(host, 'These lines were not written:', linesAgain(lines).join('\n'));
}
