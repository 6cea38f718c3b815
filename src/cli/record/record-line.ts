import { didYouMean } from '../../diagnostics/did-you-mean.ts';
import { sentence } from '../../report/words.ts';
import { visible } from '../../source/visible.ts';
import { entriesAsText } from '../../writing/record-entries.ts';
import { findKey } from '../../writing/shorthand/names.ts';
import { beginSession, readLine } from '../../writing/shorthand/read-line.ts';
import { EXIT, Finished, UsageError } from '../exit.ts';
import type { Host } from '../host.ts';
import { lookOf } from '../look.ts';
import type { GlobalOptions } from '../open-ledger.ts';
import { openDesk } from './desk.ts';
import { planEntries } from './plan.ts';
import { adviceOn } from './read-lines.ts';
import { partRepeats, tellRepeated } from './repeats.ts';
import {
  handBack,
  saidLines,
  tellDiagnostics,
  tellDiff,
  tellFailure,
  tellWritten,
} from './tell.ts';
import { writePlan } from './write-plan.ts';

export interface RecordOptions extends GlobalOptions {
  readonly dryRun: boolean;
  /** Write once more what the ledger has already, where it may be true twice. */
  readonly again?: boolean;
}

/**
 * Records the one entry that a command line asks for. The words are those of a typed line, so that
 * the command line understands and doubts what `pomary enter` understands and doubts.
 *
 * @param taster as named by an option, where the command has one
 */
export async function recordLine(
  host: Host,
  options: RecordOptions,
  words: readonly string[],
  taster?: string,
): Promise<void> {
  const desk = await openDesk(host, options);
  const { tasters } = desk.ledger.trial;
  if (taster !== undefined && tasters.size > 0 && findKey(tasters, taster).kind !== 'one') {
    const keys = [...tasters.keys()];
    const nearest = didYouMean(taster, keys);
    const hint =
      nearest === undefined ? `ledger.yaml names ${keys.join(', ')}` : `did you mean ${nearest}?`;
    throw new UsageError(`--taster ${taster}: no such taster; ${hint}`);
  }
  const read = readLine(words.join(' '), beginSession(desk.today), desk.ledger);
  const wrong = [
    ...read.slips,
    ...read.questions.map((one) => ({ message: one.message, advice: adviceOn(one) })),
  ];
  if (wrong.length > 0) {
    for (const { message, advice } of wrong) {
      host.stderr.write(`pomary: ${visible(joined(message, advice))}\n`);
    }
    throw new Finished(EXIT.usage);
  }
  const lineless = read.entries.map((entry) => ({ entry, lines: [] }));
  const { fresh, repeats } = partRepeats(desk, lineless, options.again ?? false);
  tellRepeated(
    desk,
    repeats.map(({ entry }) => entry),
  );
  const entries = fresh.map(({ entry }) => entry);
  if (entries.length === 0) return;
  const plan = planEntries(desk, entries);
  const found = plan.found.map(({ diagnostic }) => diagnostic);
  const refused = plan.refused.flatMap(({ diagnostics }) => diagnostics);
  const noColor = !options.color;
  tellDiagnostics(host, noColor, [...refused, ...found]);
  if (refused.length > 0 || found.some(({ severity }) => severity === 'error')) {
    handBack(host, 'Nothing was written. The entry:', entriesAsText(entries));
    throw new Finished(EXIT.ledgerErrors);
  }
  if (options.dryRun) {
    tellDiff(host, plan.files);
    return;
  }
  const { written, failure } = await writePlan(desk, plan);
  if (failure !== undefined) throw new Finished(tellFailure(host, noColor, failure));
  tellWritten(desk, written);
  // The first line says the entry, which stands above already.
  const look = lookOf(host, host.stdout, true);
  for (const line of read.understood.slice(1)) host.stdout.write(saidLines('  ', line, look));
}

function joined(message: string, advice: string): string {
  if (advice === '') return message;
  return message.endsWith('?') ? `${message} ${sentence(advice)}` : `${message}; ${advice}`;
}
