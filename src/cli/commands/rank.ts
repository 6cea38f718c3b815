import type { Command } from 'commander';
import type { Host } from '../host.ts';
import { withOrder, withOutput, withSelection } from '../options.ts';

export function addRankCommand(program: Command, host: Host): void {
  const command = program
    .command('rank')
    .description('Cultivars by the weighted index of what was tasted and measured, crops apart.');
  withOutput(withOrder(withSelection(command)))
    .addHelpText('after', '\nExample:\n  pomary rank --season 2024..2026 --crop main --top 10')
    .action(async () => {
      const { printReport } = await import('../print-report.ts');
      const { rankReport } = await import('../../report/rank-report.ts');
      await printReport(host, command, rankReport);
    });
}
