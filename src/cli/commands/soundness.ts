import { type Command, InvalidArgumentError, Option } from 'commander';
import type { Host } from '../host.ts';
import {
  parseCount,
  type ReportOptions,
  withBy,
  withOrder,
  withOutput,
  withSelection,
} from '../options.ts';

interface SoundnessOptions extends ReportOptions {
  readonly after?: 'rain' | 'water';
  readonly within: number;
  readonly rainFrom: number;
}

export function addSoundnessCommand(program: Command, host: Host): void {
  const command = program
    .command('soundness')
    .description('Share of fruit without a defect, and what spoiled the rest.');
  withOutput(withOrder(withBy(withSelection(command), 'cultivar')))
    .addOption(
      new Option(
        '--after <cause>',
        'splits of fruit picked soon after it, against the rest',
      ).choices(['rain', 'water']),
    )
    .addOption(
      new Option('--within <days>', 'what soon means, with --after')
        .argParser(parseCount)
        .default(3),
    )
    .addOption(
      new Option('--rain-from <mm>', 'rain of a day that counts, with --after rain')
        .argParser(parseRain)
        .default(2),
    )
    .addHelpText('after', '\nExample:\n  pomary soundness --after rain --within 3 --crop main')
    .action(async () => {
      const { printReport } = await import('../print-report.ts');
      const { soundnessReport } = await import('../../report/soundness-report.ts');
      await printReport<SoundnessOptions>(host, command, (ledger, request, options) =>
        soundnessReport(ledger, request, wettingOf(options)),
      );
    });
}

function wettingOf({ after, within, rainFrom }: SoundnessOptions) {
  return after === undefined ? undefined : { after, withinDays: within, rainFrom };
}

function parseRain(text: string): number {
  const mm = /^\d+(\.\d+)?$/.test(text) ? Number(text) : Number.NaN;
  if (mm > 0 && mm <= 500) return mm;
  throw new InvalidArgumentError('Write the rain of a day in mm, as 2 or 5.5.');
}
