import type { Command } from 'commander';
import type { Pair } from '../../judge/compare/compare-cultivars.ts';
import type { Ledger } from '../../model/ledger.ts';
import { UsageError } from '../exit.ts';
import type { Host } from '../host.ts';
import { type ReportOptions, withOutput, withSelection } from '../options.ts';
import { cultivarOf } from '../request.ts';
import { ripenessOf, type TastedOptions, withRipeness } from './tasted-options.ts';

export function addCompareCommand(program: Command, host: Host): void {
  const command = program
    .command('compare')
    .description('Two cultivars part by part, and in what they can be told apart.')
    .argument('<a>', 'a cultivar, by key or name')
    .argument('<b>', 'another');
  withOutput(withRipeness(withSelection(command)));
  // The two arguments say which cultivars.
  command.options.find(({ long }) => long === '--cultivar')?.hideHelp();
  command
    .addHelpText('after', "\nExample:\n  pomary compare 'Amber Lantern' slate-quay --crop main")
    .action(async (a: string, b: string) => {
      const { printReport } = await import('../print-report.ts');
      const { compareReport } = await import('../../report/compare-report.ts');
      await printReport<ReportOptions & TastedOptions>(
        host,
        command,
        (ledger, request, options) => {
          if (options.cultivar.length > 0) {
            throw new UsageError('compare takes its two cultivars without --cultivar');
          }
          return compareReport(ledger, request, {
            pair: pairOf(ledger, a, b),
            ripeness: ripenessOf(options),
            explain: options.explain === true,
          });
        },
      );
    });
}

export function pairOf(ledger: Ledger, a: string, b: string): Pair {
  const [first, second] = [a, b].map((word) => ledger.cultivars.get(cultivarOf(ledger, word)));
  if (first === undefined || second === undefined || first === second) {
    throw new UsageError(`${a} and ${b} are the same cultivar; name two`);
  }
  return [first, second];
}
