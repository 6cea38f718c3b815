import type { Command } from 'commander';
import type { Spread } from '../../report/spread.ts';
import type { Host } from '../host.ts';
import {
  type ReportOptions,
  withBy,
  withOrder,
  withOutput,
  withSelection,
  withSpread,
} from '../options.ts';

export function addYieldCommand(program: Command, host: Host): void {
  const command = program
    .command('yield')
    .description('Load, fruit per branch, picked fruit and weight, yield efficiency.');
  withOutput(withOrder(withSpread(withBy(withSelection(command), 'tree'))))
    .addHelpText('after', '\nExample:\n  pomary yield --season 2026 --by cultivar --crop main')
    .action(async () => {
      const { printReport } = await import('../print-report.ts');
      const { yieldReport } = await import('../../report/yield-report.ts');
      await printReport<ReportOptions & { readonly spread: Spread }>(
        host,
        command,
        (ledger, request, { spread }) => yieldReport(ledger, { ...request, spread }),
      );
    });
}
