import { type Command, Option } from 'commander';
import type { Cover } from '../../model/ledger.ts';
import type { Host } from '../host.ts';
import {
  parseSeasons,
  type ReportOptions,
  repeatable,
  withOrder,
  withOutput,
  withSeed,
} from '../options.ts';

interface PoolOptions extends ReportOptions {
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
    .addOption(
      repeatable('--cover <cover>', `only what stands ${COVERS.join(', ')}`, String).choices(
        COVERS,
      ),
    )
    .addOption(
      new Option('--parts <list>', 'weighted parts that count, with commas between (default: all)')
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
      const { openGardens } = await import('../open-gardens.ts');
      const { poolMaterial, pooledRows } = await import('../pool-material.ts');
      const { poolReport } = await import('../../report/pool/pool-report.ts');
      const { poolNamesReport } = await import('../../report/pool/pool-names-report.ts');
      await printReport<PoolOptions>(
        host,
        command,
        async (home, request, options) => {
          const { climate, cover, parts, seed } = options;
          const global = command.optsWithGlobals<
            PoolOptions & { ledger?: string; color: boolean }
          >();
          const opened = await openGardens(host, global, home, folders);
          const seasons = options.season.flat();
          const material = poolMaterial(home, opened, { seasons, climate, covers: cover, parts });
          const asked = {
            ...request,
            seed,
            rows: pooledRows(material.same, options.cultivar),
            keptTo: [
              ...(seasons.length === 0 ? [] : [['season', seasons] as const]),
              ...(options.cultivar.length === 0 ? [] : [['cultivar', options.cultivar] as const]),
              ...(climate === undefined ? [] : [['climate', climate] as const]),
              ...(cover.length === 0 ? [] : [['cover', cover] as const]),
              ...(parts.length === 0 ? [] : [['parts', parts] as const]),
            ],
          };
          return options.names === true
            ? poolNamesReport(material, asked)
            : poolReport(material, asked);
        },
        // Seasons and cultivars are those of all gardens, not of home alone.
        (options) => ({ ...options, season: [], cultivar: [], site: [], tree: [] }),
      );
    });
}
