import type { LineupRequest } from '../judge/lineup/lineup.ts';
import type { IsoDate } from '../model/dates.ts';
import type { Taster } from '../model/entries.ts';
import type { Ledger } from '../model/ledger.ts';
import type { DocumentFormat } from '../render/document.ts';
import { UsageError } from './exit.ts';
import type { GlobalOptions } from './open-ledger.ts';
import { cultivarOf, selectionOf } from './request.ts';

/** What the options of `lineup` come to, once commander has parsed them. */
export interface LineupOptions extends GlobalOptions {
  readonly on?: IsoDate;
  readonly samples: number;
  readonly tasters: readonly string[];
  readonly crop?: string;
  readonly candidates: readonly string[];
  readonly for?: 'order' | 'verdict';
  readonly seed?: number;
  readonly format?: DocumentFormat;
  readonly output?: string;
  /** The same as `output`. */
  readonly sheet?: string;
  readonly explain?: boolean;
}

/** More than these cannot be told apart at one sitting. */
const MOST_SAMPLES = 20;

/**
 * What a command line asks of the next tasting, held against the ledger. Throws a `UsageError` for
 * anything that the ledger does not have.
 */
export function lineupRequestOf(
  ledger: Ledger,
  options: Omit<LineupOptions, keyof GlobalOptions>,
  today: IsoDate,
): LineupRequest {
  if (options.samples > MOST_SAMPLES) {
    throw new UsageError(`--samples ${options.samples}: at most ${MOST_SAMPLES} at one sitting`);
  }
  const on = options.on ?? today;
  const { crops } = selectionOf(ledger, {
    season: [],
    crop: options.crop === undefined ? [] : [options.crop],
    site: [],
    cultivar: [],
    tree: [],
  });
  const { candidates } = options;
  const offered = candidates.map((word) => cultivarOf(ledger, word, '--candidates'));
  return {
    on,
    crop: crops?.[0],
    samples: options.samples,
    tasters: tastersOf(ledger, options.tasters),
    candidates: offered.length === 0 ? undefined : [...new Set(offered)],
    aim: options.for,
    // A number that is another one every day, so that codes are not the same each time.
    seed: options.seed ?? Number(on.replaceAll('-', '')),
  };
}

function tastersOf({ trial }: Ledger, keys: readonly string[]): readonly Taster[] {
  const all = [...trial.tasters.values()];
  if (all.length === 0) {
    throw new UsageError('ledger.yaml names no tasters; add tasters: { key: Name }');
  }
  if (keys.length === 0) return all;
  return [...new Set(keys)].map((key) => {
    const taster = trial.tasters.get(key);
    if (taster !== undefined) return taster;
    const known = all.map((one) => one.key).join(', ');
    throw new UsageError(`--tasters ${key}: no such taster; ledger.yaml names ${known}`);
  });
}
