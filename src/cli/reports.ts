import { type Command, InvalidArgumentError, Option } from 'commander';
import { ORDER_SOURCES, type OrderSource } from '../judge/orders/order-sheets.ts';
import { SCORE_UNITS, type ScoreUnit } from '../judge/scores/score-unit.ts';
import type { By } from '../measure/group-records.ts';
import { RIPENESS, type Ripeness } from '../model/entries.ts';
import { COVERS, type Cover } from '../model/ledger.ts';
import type { Spread } from '../report/report-request.ts';
import { UsageError } from './exit.ts';
import type { Host } from './host.ts';
import type { GlobalOptions } from './open-ledger.ts';
import {
  commaWords,
  cropOption,
  parseCount,
  type ReportOptions,
  repeatable,
  repeatableWords,
  seasonOption,
  withBy,
  withCovers,
  withOrder,
  withOutput,
  withSeed,
  withSelection,
  withSpread,
} from './options.ts';
import type { ReportEntry } from './report-entry.ts';

interface SpreadWords {
  readonly spread?: Spread | undefined;
}

export const YIELD: ReportEntry<SpreadWords> = {
  name: 'yield',
  description: 'Load, fruit per branch, picked fruit and weight, yield efficiency.',
  examples: ['yield --season 2026 --by cultivar --crop main'],
  options: [withSelection, withBy('tree'), withSpread, withOrder, withOutput],
  async build(ledger, request, { spread }) {
    const { yieldReport } = await import('../report/measured/yield-report.ts');
    return yieldReport(ledger, { ...request, spread });
  },
};

export const WEIGHTS: ReportEntry<SpreadWords> = {
  name: 'weights',
  description: 'Fruit weights: mean with its interval, spread and quartiles.',
  examples: ['weights --season 2024..2026 --sort mean'],
  options: [withSelection, withBy('cultivar'), withSpread, withOrder, withOutput],
  async build(ledger, request, { spread }) {
    const { weightsReport } = await import('../report/measured/weights-report.ts');
    return weightsReport(ledger, { ...request, spread });
  },
};

export const CROPS_SIDE_BY_SIDE: ReportEntry<object> = {
  name: 'crops',
  description: 'Early crop and main crop side by side.',
  examples: ['crops --season 2026'],
  options: [withSelection, withBy('cultivar'), withOrder, withOutput],
  async build(ledger, request) {
    const { cropsReport } = await import('../report/measured/crops-report.ts');
    return cropsReport(ledger, request);
  },
};

interface WettingWords {
  readonly after?: 'rain' | 'water' | undefined;
  /** Days. */
  readonly within?: number | undefined;
  /** Rain of a day that counts, mm. */
  readonly rainFrom?: number | undefined;
}

const SOON = 3;
const WET = 2;

export const SOUNDNESS: ReportEntry<WettingWords> = {
  name: 'soundness',
  description: 'Share of fruit without a defect, and what spoiled the rest.',
  examples: ['soundness --after rain --within 3 --crop main'],
  options: [
    withSelection,
    withBy('cultivar'),
    withOrder,
    withOutput,
    having(
      new Option(
        '--after <cause>',
        'splits of fruit picked soon after it, against the rest',
      ).choices(['rain', 'water']),
      new Option('--within <days>', 'what soon means, with --after')
        .argParser(parseCount)
        .default(SOON),
      new Option('--rain-from <mm>', 'rain of a day that counts, with --after rain')
        .argParser(parseRain)
        .default(WET),
    ),
  ],
  async build(ledger, request, { after, within = SOON, rainFrom = WET }) {
    const { soundnessReport } = await import('../report/measured/soundness-report.ts');
    const wetting = after === undefined ? undefined : { after, withinDays: within, rainFrom };
    return soundnessReport(ledger, request, wetting);
  },
};

export const RIPENING: ReportEntry<object> = {
  name: 'ripening',
  description: 'The calendar of picks, against the standard cultivar and the first frost.',
  examples: ['ripening --season 2026 --crop main'],
  options: [withSelection, withBy('cultivar'), withOrder, withOutput],
  async build(ledger, request) {
    const { ripeningReport } = await import('../report/measured/ripening-report.ts');
    return ripeningReport(ledger, request);
  },
};

interface TastedWords {
  /** Fruit that was this ripe when tasted. */
  readonly ripeness?: readonly Ripeness[];
}

/** Ripe, unless it is said otherwise. */
function ripenessOf({ ripeness = [] }: TastedWords): readonly Ripeness[] {
  return ripeness.length === 0 ? ['ripe'] : RIPENESS.filter((one) => ripeness.includes(one));
}

const withRipeness = having(
  repeatableWords('--ripeness <state>', 'fruit that was this ripe when tasted', RIPENESS, 'ripe'),
);

interface ScoresWords extends TastedWords {
  readonly trait?: readonly string[];
  readonly unit?: ScoreUnit | undefined;
}

export const SCORES: ReportEntry<ScoresWords> = {
  name: 'scores',
  description: 'Mean scores with taster and sitting allowed for, and what can be told apart.',
  examples: ['scores --crop main --trait flavour'],
  options: [
    withSelection,
    having(
      repeatable('--trait <key>', 'a trait', String),
      new Option('--by <what>', 'what a row is: cultivar or tree')
        .argParser(parseScoredBy)
        .default([], 'cultivar'),
      new Option(
        '--unit <unit>',
        'what errors and letters rest on: plates, or each score for itself',
      )
        .choices(SCORE_UNITS)
        .default(SCORE_UNITS[0]),
    ),
    withRipeness,
    withOrder,
    withOutput,
  ],
  async build(ledger, request, words) {
    const { scoresReport } = await import('../report/tasted/scores-report.ts');
    const { trait = [], unit = SCORE_UNITS[0] } = words;
    const { traitsOf } = await import('./request.ts');
    const traits = traitsOf(ledger, trait);
    return scoresReport(ledger, request, { traits, ripeness: ripenessOf(words), unit });
  },
};

interface PreferenceWords extends TastedWords {
  readonly from?: OrderSource | undefined;
  /** Wins and losses given to each beforehand. */
  readonly prior?: number | undefined;
}

const PRIOR = 0.5;

export const PREFERENCE: ReportEntry<PreferenceWords> = {
  name: 'preference',
  description: "What tasters' best-first orders add up to, cultivar against cultivar.",
  examples: ['preference --crop main --from both'],
  options: [
    withSelection,
    having(
      new Option('--from <source>', 'orders as they were given, read off scores, or both')
        .choices(ORDER_SOURCES)
        .default(ORDER_SOURCES[0]),
      new Option('--prior <wins>', 'wins and losses given to each beforehand; 0 for none')
        .argParser(parsePrior)
        .default(PRIOR),
    ),
    withRipeness,
    withOrder,
    withOutput,
  ],
  async build(ledger, request, words) {
    const { preferenceReport } = await import('../report/tasted/preference-report.ts');
    const { from = ORDER_SOURCES[0], prior = PRIOR } = words;
    return preferenceReport(ledger, request, { from, prior, ripeness: ripenessOf(words) });
  },
};

export const WORDS: ReportEntry<TastedWords> = {
  name: 'words',
  description: 'What tasters say each cultivar tastes of, and how often.',
  examples: ['words --crop main --top 3'],
  options: [withSelection, withRipeness, withOrder, withOutput],
  async build(ledger, request, words) {
    const { wordsReport } = await import('../report/tasted/words-report.ts');
    return wordsReport(ledger, request, ripenessOf(words));
  },
};

interface IndexWords {
  readonly by?: 'cultivar' | 'cover';
  readonly seed?: number | undefined;
}

const withSimulation = withSeed('of the simulation (default: 1)');

export const RANK: ReportEntry<IndexWords> = {
  name: 'rank',
  description: 'Cultivars by the weighted index, with how sure that is; crops apart.',
  examples: ['rank --season 2024..2026 --crop main --top 10'],
  options: [withSelection, withCovers, withOrder, withOutput, withSimulation],
  async build(ledger, request, { by, seed }) {
    const { rankReport } = await import('../report/judged/rank-report.ts');
    return rankReport(ledger, { ...request, by: [], byCover: by === 'cover', seed });
  },
};

export const COMPARE: ReportEntry<TastedWords & { readonly cultivar?: readonly string[] }> = {
  name: 'compare',
  description: 'Two cultivars part by part, and in what they can be told apart.',
  examples: ["compare 'Amber Lantern' slate-quay --crop main"],
  operands: [
    ['<a>', 'a cultivar, by key or name'],
    ['<b>', 'another'],
  ],
  // The two operands say which cultivars.
  options: [withSelection, withRipeness, withOutput, hiding('--cultivar')],
  async build(ledger, request, words, [a = '', b = '']) {
    const { compareReport } = await import('../report/judged/compare-report.ts');
    if ((words.cultivar ?? []).length > 0) {
      throw new UsageError('compare takes its two cultivars without --cultivar');
    }
    const { pairOf } = await import('./request.ts');
    const pair = pairOf(ledger, a, b);
    return compareReport(ledger, request, { pair, ripeness: ripenessOf(words) });
  },
};

const STEADY = 'productivity';

export const STABILITY: ReportEntry<{ readonly of?: string | undefined }> = {
  name: 'stability',
  description: 'How steady cultivars are over seasons and sites, and from year to year.',
  examples: ['stability --of size --crop main'],
  options: [
    having(new Option('--of <figure>', 'productivity, size, soundness or a trait').default(STEADY)),
    withSelection,
    withOrder,
    withOutput,
  ],
  async build(ledger, request, { of = STEADY }) {
    const { stabilityReport } = await import('../report/judged/stability-report.ts');
    const { steadyFigureOf } = await import('./request.ts');
    return stabilityReport(ledger, request, await steadyFigureOf(ledger, of));
  },
};

export const VERDICT: ReportEntry<IndexWords> = {
  name: 'verdict',
  description: 'Increase, retain, watch or discard, with the rule and the figures behind it.',
  examples: ['verdict --crop main --confidence 90'],
  options: [withSelection, withCovers, withOrder, withOutput, withSimulation],
  async build(ledger, request, { by, seed }) {
    const { verdictReport } = await import('../report/judged/verdict-report.ts');
    return verdictReport(ledger, { ...request, by: [], byCover: by === 'cover', seed });
  },
};

export interface PoolOptions extends ReportOptions, GlobalOptions {
  readonly seed?: number;
  readonly climate?: string;
  readonly cover: readonly Cover[];
  readonly parts: readonly string[];
  readonly names?: boolean;
}

export const POOL: ReportEntry<PoolOptions> = {
  name: 'pool',
  description: 'Several gardens as one: what to expect in gardens like these, crops apart.',
  examples: ['pool ../hill-foot ../quay-row --crop main', 'pool ../* --climate maritime --names'],
  operands: [['<dir...>', 'folders of the ledgers of other gardens; this one is home']],
  options: [
    having(
      seasonOption(),
      cropOption(),
      repeatable('--cultivar <key>', 'a cultivar, by key or name in any of the gardens', String),
      new Option('--climate <text>', 'only gardens whose climate has this in it'),
      repeatableWords('--cover <cover>', 'only what stands under this cover', COVERS.toReversed()),
      commaWords('--parts <list>', 'weighted parts that count', 'all'),
      new Option('--names', 'list what was taken for the same cultivar, and why').default(false),
    ),
    withOrder,
    withOutput,
    withSimulation,
  ],
  // Seasons and cultivars are those of all gardens, and sites and trees of none.
  ofLedger: (options) => ({ ...options, season: [], cultivar: [], site: [], tree: [] }),
  async build(home, request, options, folders, host) {
    const { openPool } = await import('./open-pool.ts');
    const { material, asked } = await openPool(host, home, folders, request, options);
    if (options.names === true) {
      const { poolNamesReport } = await import('../report/pool/pool-names-report.ts');
      return poolNamesReport(material, asked);
    }
    const { poolReport } = await import('../report/pool/pool-report.ts');
    return poolReport(material, asked);
  },
};

/** The command of a report. */
export function addReportCommand(program: Command, host: Host, entry: ReportEntry<object>): void {
  const { name, description, examples, operands = [], options } = entry;
  const command = program.command(name).description(description);
  for (const [operand, what] of operands) command.argument(operand, what);
  for (const take of options) take(command);
  command
    .addHelpText(
      'after',
      `\nExample${examples.length > 1 ? 's' : ''}:\n${examples.map((line) => `  pomary ${line}`).join('\n')}`,
    )
    .action(async () => {
      const { printReport } = await import('./print-report.ts');
      await printReport(host, command, entry);
    });
}

function having(...options: readonly Option[]) {
  return (command: Command) => {
    for (const option of options) command.addOption(option);
    return command;
  };
}

function hiding(flag: string) {
  return (command: Command) => {
    command.options.find(({ long }) => long === flag)?.hideHelp();
    return command;
  };
}

function parseRain(text: string): number {
  const mm = /^\d+(\.\d+)?$/.test(text) ? Number(text) : Number.NaN;
  if (mm > 0 && mm <= 500) return mm;
  throw new InvalidArgumentError('Write the rain of a day in mm, as 2 or 5.5.');
}

function parsePrior(text: string): number {
  const prior = /^\d+(\.\d+)?$/.test(text) ? Number(text) : Number.NaN;
  if (prior >= 0 && prior <= 10) return prior;
  throw new InvalidArgumentError('Write a number from 0 to 10, as 0.5.');
}

function parseScoredBy(text: string, before: readonly By[]): readonly By[] {
  if (before.length === 0 && (text === 'cultivar' || text === 'tree')) return [text];
  throw new InvalidArgumentError('Rows are cultivar or tree.');
}
