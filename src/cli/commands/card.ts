import type { Command } from 'commander';
import type { IsoDate } from '../../model/dates.ts';
import type { Ledger } from '../../model/ledger.ts';
import { DOCUMENT_FORMATS } from '../../render/document.ts';
import type { Document } from '../../report/document.ts';
import type { Host } from '../host.ts';
import type { GlobalOptions } from '../open-ledger.ts';
import { countOption, cropOption, seasonOption, withDocumentOutput } from '../options.ts';
import type { DocumentOptions } from '../print-document.ts';
import { formatOfFile } from '../put-out.ts';

interface CardOptions extends GlobalOptions, DocumentOptions {
  readonly season: readonly (readonly number[])[];
  readonly crop: readonly string[];
  readonly notes: number;
  readonly full: boolean;
  readonly confidence: number;
}

export function addCardCommand(program: Command, host: Host): void {
  const command = program
    .command('card')
    .description('All that the ledger knows of one cultivar, on a page.')
    .argument('<cultivar>', 'its key or name')
    .addOption(seasonOption())
    .addOption(cropOption())
    .addOption(countOption('--notes <n>', 'notes of the seasons to show at most', 6))
    .option('--full', 'its rank in each season alone as well', false);
  withDocumentOutput(command)
    .addHelpText(
      'after',
      '\nExample:\n  pomary card "Amber Lantern" --format html --output card.html',
    )
    .action(async (word: string) => {
      const options = command.optsWithGlobals<CardOptions>();
      const { openForReport } = await import('../open-ledger.ts');
      const { printDocument } = await import('../print-document.ts');
      const ledger = await openForReport(host, options);
      const format = options.format ?? formatOfFile(options.output, DOCUMENT_FORMATS);
      // Machines get all that there is.
      const full = options.full || format === 'json';
      const page = await cardPage(ledger, word, { ...options, full }, host.today());
      await printDocument(host, options, page);
    });
}

/** The card that its options ask for. Throws a `UsageError` where there is no such cultivar. */
export async function cardPage(
  ledger: Ledger,
  word: string,
  options: Pick<CardOptions, 'season' | 'crop' | 'notes' | 'full' | 'confidence'>,
  today: IsoDate,
): Promise<Document> {
  const { cultivarOf, selectionOf } = await import('../request.ts');
  const { cardOf } = await import('../../report/card/card.ts');
  const { rankReport: rank } = await import('../../report/judged/rank-report.ts');
  const { verdictReport: verdict } = await import('../../report/judged/verdict-report.ts');
  const selection = selectionOf(ledger, { ...options, site: [], cultivar: [], tree: [] });
  const { confidence, full, notes: remarks } = options;
  const cultivar = cultivarOf(ledger, word);
  const asked = { cultivar, selection, confidence, remarks, full, today };
  return cardOf(ledger, asked, { rank, verdict });
}
