import { type Command, Option } from 'commander';
import type { Host } from '../host.ts';
import { parseSeed, type ReportOptions, withOrder, withOutput, withSelection } from '../options.ts';

interface RankOptions extends ReportOptions {
  readonly seed?: number;
  readonly explain: boolean;
}

export function addRankCommand(program: Command, host: Host): void {
  const command = program
    .command('rank')
    .description('Cultivars by the weighted index, with how sure that is; crops apart.');
  withOutput(withOrder(withSelection(command)))
    .addOption(new Option('--seed <n>', 'of the simulation (default: 1)').argParser(parseSeed))
    .option('--explain', 'tell how it is computed, with sources', false)
    .addHelpText('after', '\nExample:\n  pomary rank --season 2024..2026 --crop main --top 10')
    .action(async () => {
      const { printReport } = await import('../print-report.ts');
      const { rankReport } = await import('../../report/rank-report.ts');
      await printReport<RankOptions>(host, command, (ledger, request, { seed, explain }) =>
        rankReport(ledger, { ...request, seed, explain }),
      );
    });
}
