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

export function addWeightsCommand(program: Command, host: Host): void {
  const command = program
    .command('weights')
    .description('Fruit weights: mean with its interval, spread and quartiles.');
  withOutput(withOrder(withSpread(withBy(withSelection(command), 'cultivar'))))
    .addHelpText('after', '\nExample:\n  pomary weights --season 2024..2026 --sort mean')
    .action(async () => {
      const { printReport } = await import('../print-report.ts');
      const { weightsReport } = await import('../../report/weights-report.ts');
      await printReport<ReportOptions & { readonly spread: Spread }>(
        host,
        command,
        (ledger, request, { spread }) => weightsReport(ledger, { ...request, spread }),
      );
    });
}
