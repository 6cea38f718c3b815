import type { Command } from 'commander';
import type { Host } from '../host.ts';
import { withBy, withOrder, withOutput, withSelection } from '../options.ts';

export function addRipeningCommand(program: Command, host: Host): void {
  const command = program
    .command('ripening')
    .description('The calendar of picks, against the standard cultivar and the first frost.');
  withOutput(withOrder(withBy(withSelection(command), 'cultivar')))
    .addHelpText('after', '\nExample:\n  pomary ripening --season 2026 --crop main')
    .action(async () => {
      const { printReport } = await import('../print-report.ts');
      const { ripeningReport } = await import('../../report/ripening-report.ts');
      await printReport(host, command, ripeningReport);
    });
}
