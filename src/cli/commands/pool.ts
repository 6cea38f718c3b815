import { type Command, Option } from 'commander';
import type { Cover } from '../../model/ledger.ts';
import type { Host } from '../host.ts';
import type { GlobalOptions } from '../open-ledger.ts';
import {
  parseSeasons,
  type ReportOptions,
  repeatable,
  repeatableWords,
  withOrder,
  withOutput,
  withSeed,
} from '../options.ts';

interface PoolOptions extends ReportOptions, GlobalOptions {
  readonly seed?: number;
  readonly climate?: string;
  readonly cover: readonly Cover[];
  readonly parts: readonly string[];
  readonly names?: boolean;
}

const COVERS: readonly Cover[] = ['open', 'tunnel', 'glass', 'indoors'];

export function addPoolCommand(program: Command, host: Host): void {
  const command = program
    .command('pool')
    .description('Several gardens as one: what to expect in gardens like these, crops apart.')
    .argument('<dir...>', 'folders of the ledgers of other gardens; this one is home')
    .addOption(
      repeatable('--season <year>', 'a season or a span, as 2026 or 2024..2026', parseSeasons),
    )
    .addOption(repeatable('--crop <crop>', "early or main, or the ledger's word", String))
    .addOption(
      repeatable('--cultivar <key>', 'a cultivar, by key or name in any of the gardens', String),
    )
    .option('--climate <text>', 'only gardens whose climate has this in it')
    .addOption(repeatableWords('--cover <cover>', 'only what stands under this cover', COVERS))
    .addOption(
      new Option('--parts <list>', 'weighted parts that count, with commas between')
        .argParser((text) => text.split(',').map((part) => part.trim()))
        .default([], 'all'),
    )
    .option('--names', 'list what was taken for the same cultivar, and why', false);
  withOutput(withOrder(command));
  withSeed(command, 'of the simulation (default: 1)')
    .addHelpText(
      'after',
      '\nExamples:\n  pomary pool ../hill-foot ../quay-row --crop main\n  pomary pool ../* --climate maritime --names',
    )
    .action(async (folders: readonly string[]) => {
      const { printReport } = await import('../print-report.ts');
      const { ofHomeAlone, openPool } = await import('../open-pool.ts');
      const { poolReport } = await import('../../report/pool/pool-report.ts');
      const { poolNamesReport } = await import('../../report/pool/pool-names-report.ts');
      await printReport<PoolOptions>(
        host,
        command,
        async (home, request, options) => {
          const { material, asked } = await openPool(host, home, folders, request, options);
          return options.names === true
            ? poolNamesReport(material, asked)
            : poolReport(material, asked);
        },
        ofHomeAlone,
      );
    });
}
