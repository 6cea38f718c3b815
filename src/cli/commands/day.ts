import type { Command } from 'commander';
import type { Ledger } from '../../model/ledger.ts';
import type { Document } from '../../report/document.ts';
import type { Host } from '../host.ts';
import type { GlobalOptions } from '../open-ledger.ts';
import { withDocumentOutput, withExplain } from '../options.ts';
import type { DocumentOptions } from '../print-document.ts';

interface DayOptions extends GlobalOptions, DocumentOptions {
  readonly names: boolean;
  readonly explain: boolean;
  readonly confidence: number;
}

export function addDayCommand(program: Command, host: Host): void {
  const command = program
    .command('day')
    .description('What was picked and tasted on a day, best first, beside other years.')
    .argument('[date]', 'the day as 2026-07-29, the last day with a pick or a sitting if left out');
  withExplain(withDocumentOutput(command))
    .option('--no-names', 'tell how many tasters, not who')
    .addHelpText('after', '\nExample:\n  pomary day 2026-07-29 --format html --output day.html')
    .action(async (word: string | undefined) => {
      const options = command.optsWithGlobals<DayOptions>();
      const { openForReport } = await import('../open-ledger.ts');
      const { printDocument } = await import('../print-document.ts');
      const ledger = await openForReport(host, options);
      await printDocument(host, options, await dayPage(ledger, word, options));
    });
}

/** The page of a day that its options ask for. */
export async function dayPage(
  ledger: Ledger,
  word: string | undefined,
  { confidence, explain, names }: Pick<DayOptions, 'confidence' | 'explain' | 'names'>,
): Promise<Document> {
  const { askedDay } = await import('../request.ts');
  const { dayDocument } = await import('../../report/day/day-document.ts');
  const on = await askedDay(ledger, word);
  return dayDocument(ledger, { on, confidence, explain, naming: names ? 'names' : 'number' });
}
