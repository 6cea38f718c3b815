import type { Command } from 'commander';
import type { Host } from '../host.ts';
import { withBy, withOrder, withOutput, withSelection } from '../options.ts';

export function addWeightsCommand(program: Command, host: Host): void {
  const command = program
    .command('weights')
    .description('Fruit weights: mean with its interval, spread and quartiles.');
  withOutput(withOrder(withBy(withSelection(command), 'cultivar')))
    .addHelpText('after', '\nExample:\n  pomary weights --season 2024..2026 --sort mean')
    .action(async () => {
      const { printReport } = await import('../print-report.ts');
      const { weightsReport } = await import('../../report/weights-report.ts');
      await printReport(host, command, weightsReport);
    });
}
