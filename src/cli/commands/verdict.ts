import type { Command } from 'commander';
import type { Host } from '../host.ts';
import {
  type ReportOptions,
  withCovers,
  withOrder,
  withOutput,
  withSeed,
  withSelection,
} from '../options.ts';

interface VerdictOptions extends Omit<ReportOptions, 'by'> {
  readonly by: 'cultivar' | 'cover';
  readonly seed?: number;
}

export function addVerdictCommand(program: Command, host: Host): void {
  const command = program
    .command('verdict')
    .description('Increase, retain, watch or discard, with the rule and the figures behind it.');
  withOutput(withOrder(withCovers(withSelection(command))));
  withSeed(command, 'of the simulation (default: 1)')
    .addHelpText('after', '\nExample:\n  pomary verdict --crop main --confidence 90')
    .action(async () => {
      const { printReport } = await import('../print-report.ts');
      const { verdictReport } = await import('../../report/verdict-report.ts');
      await printReport<VerdictOptions>(host, command, (ledger, request, { seed, by }) =>
        verdictReport(ledger, { ...request, by: [], byCover: by === 'cover', seed }),
      );
    });
}
