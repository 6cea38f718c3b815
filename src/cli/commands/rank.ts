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

interface RankOptions extends Omit<ReportOptions, 'by'> {
  readonly by: 'cultivar' | 'cover';
  readonly seed?: number;
}

export function addRankCommand(program: Command, host: Host): void {
  const command = program
    .command('rank')
    .description('Cultivars by the weighted index, with how sure that is; crops apart.');
  withOutput(withOrder(withCovers(withSelection(command))));
  withSeed(command, 'of the simulation (default: 1)')
    .addHelpText('after', '\nExample:\n  pomary rank --season 2024..2026 --crop main --top 10')
    .action(async () => {
      const { printReport } = await import('../print-report.ts');
      const { rankReport } = await import('../../report/rank-report.ts');
      await printReport<RankOptions>(host, command, (ledger, request, { seed, by }) =>
        rankReport(ledger, { ...request, by: [], byCover: by === 'cover', seed }),
      );
    });
}
