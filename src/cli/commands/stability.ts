import type { Command } from 'commander';
import type { Host } from '../host.ts';
import { type ReportOptions, withOrder, withOutput, withSelection } from '../options.ts';

interface StabilityOptions extends ReportOptions {
  readonly of: string;
}

export function addStabilityCommand(program: Command, host: Host): void {
  const command = program
    .command('stability')
    .description('How steady cultivars are over seasons and sites, and from year to year.')
    .option('--of <figure>', 'productivity, size, soundness or a trait', 'productivity');
  withOutput(withOrder(withSelection(command)))
    .addHelpText('after', '\nExample:\n  pomary stability --of size --crop main')
    .action(async () => {
      const { printReport } = await import('../print-report.ts');
      const { steadyFigureOf } = await import('../steady-figure.ts');
      const { stabilityReport } = await import('../../report/stability-report.ts');
      await printReport<StabilityOptions>(host, command, (ledger, request, { of }) =>
        stabilityReport(ledger, request, steadyFigureOf(ledger, of)),
      );
    });
}
