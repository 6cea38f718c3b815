import type { Command } from 'commander';
import type { Host } from '../host.ts';
import type { GlobalOptions } from '../open-ledger.ts';
import { countOption, cropOption, seasonOption, withDocumentOutput } from '../options.ts';
import type { DocumentOptions } from '../print-document.ts';

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
      const { openLedger } = await import('../open-ledger.ts');
      const { selectionOf } = await import('../request.ts');
      const { cultivarCard } = await import('../cultivar-card.ts');
      const { printDocument } = await import('../print-document.ts');
      const ledger = await openLedger(host, options);
      const selection = selectionOf(ledger, { ...options, site: [], cultivar: [], tree: [] });
      const { confidence, notes: remarks, full } = options;
      const page = await cultivarCard(ledger, word, {
        selection,
        confidence,
        remarks,
        // Machines get all that there is.
        full: full || options.format === 'json',
        today: host.today(),
      });
      await printDocument(host, options, page);
    });
}
