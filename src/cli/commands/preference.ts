import { type Command, InvalidArgumentError, Option } from 'commander';
import { ORDER_SOURCES, type OrderSource } from '../../judge/orders/order-sheets.ts';
import type { Host } from '../host.ts';
import { type ReportOptions, withOrder, withOutput, withSelection } from '../options.ts';
import { ripenessOf, type TastedOptions, withRipeness } from './tasted-options.ts';

interface PreferenceOptions extends ReportOptions, TastedOptions {
  readonly from: OrderSource;
  readonly prior: number;
}

export function addPreferenceCommand(program: Command, host: Host): void {
  const command = program
    .command('preference')
    .description("What tasters' best-first orders add up to, cultivar against cultivar.");
  withSelection(command)
    .addOption(
      new Option('--from <source>', 'orders as they were given, read off scores, or both')
        .choices(ORDER_SOURCES)
        .default('orders'),
    )
    .addOption(
      new Option('--prior <wins>', 'wins and losses given to each beforehand; 0 for none')
        .argParser(parsePrior)
        .default(0.5),
    );
  withOutput(withOrder(withRipeness(command)))
    .addHelpText('after', '\nExample:\n  pomary preference --crop main --from both')
    .action(async () => {
      const { printReport } = await import('../print-report.ts');
      const { preferenceReport } = await import('../../report/preference-report.ts');
      await printReport<PreferenceOptions>(host, command, (ledger, request, options) =>
        preferenceReport(ledger, request, {
          from: options.from,
          prior: options.prior,
          ripeness: ripenessOf(options),
          explain: options.explain === true,
        }),
      );
    });
}

function parsePrior(text: string): number {
  const prior = /^\d+(\.\d+)?$/.test(text) ? Number(text) : Number.NaN;
  if (prior >= 0 && prior <= 10) return prior;
  throw new InvalidArgumentError('Write a number from 0 to 10, as 0.5.');
}
