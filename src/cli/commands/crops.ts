import type { Command } from 'commander';
import type { Host } from '../host.ts';
import { withBy, withOrder, withOutput, withSelection } from '../options.ts';

export function addCropsCommand(program: Command, host: Host): void {
  const command = program.command('crops').description('Early crop and main crop side by side.');
  withOutput(withOrder(withBy(withSelection(command), 'cultivar')))
    .addHelpText('after', '\nExample:\n  pomary crops --season 2026')
    .action(async () => {
      const { printReport } = await import('../print-report.ts');
      const { cropsReport } = await import('../../report/crops-report.ts');
      await printReport(host, command, cropsReport);
    });
}
