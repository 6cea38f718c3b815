import type { Command } from 'commander';
import type { Host } from '../host.ts';
import type { GlobalOptions } from '../open-ledger.ts';
import { parseSeasons, repeatable } from '../options.ts';
import { countOption, withPageOutput } from '../page-options.ts';
import type { PageOptions } from '../print-page.ts';

interface CardOptions extends GlobalOptions, PageOptions {
  readonly season: readonly (readonly number[])[];
  readonly crop: readonly string[];
  readonly notes: number;
  readonly confidence: number;
}

export function addCardCommand(program: Command, host: Host): void {
  const command = program
    .command('card')
    .description('All that the ledger knows of one cultivar, on a page.')
    .argument('<cultivar>', 'its key or name')
    .addOption(
      repeatable('--season <year>', 'a season or a span, as 2026 or 2024..2026', parseSeasons),
    )
    .addOption(repeatable('--crop <crop>', "early or main, or the ledger's word", String))
    .addOption(countOption('--notes <n>', 'notes of the seasons to show at most', 6));
  withPageOutput(command)
    .addHelpText(
      'after',
      '\nExample:\n  pomary card "Amber Lantern" --format html --output card.html',
    )
    .action(async (word: string) => {
      const options = command.optsWithGlobals<CardOptions>();
      const { openLedger } = await import('../open-ledger.ts');
      const { cultivarOf, selectionOf } = await import('../request.ts');
      const { cardOf } = await import('../../report/card/card.ts');
      const { rankReport } = await import('../../report/rank-report.ts');
      const { verdictReport } = await import('../../report/verdict-report.ts');
      const { printPage } = await import('../print-page.ts');
      const ledger = await openLedger(host, options);
      const cultivar = cultivarOf(ledger, word);
      const none = { site: [], cultivar: [], tree: [] };
      const { seasons, crops } = selectionOf(ledger, { ...none, ...options });
      const request = {
        cultivar,
        selection: { seasons, crops },
        confidence: options.confidence,
        remarks: options.notes,
      };
      await printPage(
        host,
        options,
        await cardOf(ledger, request, { rank: rankReport, verdict: verdictReport }),
      );
    });
}
