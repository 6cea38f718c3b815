import type { Command } from 'commander';
import type { Host } from '../host.ts';
import { type ReportOptions, withOrder, withOutput, withSelection } from '../options.ts';
import { ripenessOf, type TastedOptions, withRipeness } from './tasted-options.ts';

export function addWordsCommand(program: Command, host: Host): void {
  const command = program
    .command('words')
    .description('What tasters say each cultivar tastes of, and how often.');
  withOutput(withOrder(withRipeness(withSelection(command))))
    .addHelpText('after', '\nExample:\n  pomary words --crop main --top 3')
    .action(async () => {
      const { printReport } = await import('../print-report.ts');
      const { wordsReport } = await import('../../report/words-report.ts');
      await printReport<ReportOptions & TastedOptions>(host, command, (ledger, request, options) =>
        wordsReport(ledger, request, ripenessOf(options)),
      );
    });
}
