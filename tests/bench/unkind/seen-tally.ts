import { weights, yields } from '../../../src/index.ts';
import type { Ledger } from '../../../src/model/ledger.ts';
import { ledgerFrom } from '../../support/ledger-from.ts';
import { chance } from './chance.ts';
import { garden, upTo } from './garden.ts';
import type { GardenKind } from './garden-kinds.ts';
import { FIRST_YEAR, gardenFiles, writeSeason } from './garden-records.ts';
import { type SeenPart, type SeenTruth, seenTruth } from './seen-truth.ts';

export const SEEN_PARTS: readonly SeenPart[] = ['productivity', 'size'];

/** Rows of `yield` and `weights`. */
export const SEEN_ROWS = ['cultivar', 'cultivar,season'] as const;

/** One interval against what is true of trees like those that were seen. */
export interface SeenRow {
  readonly part: SeenPart;
  readonly by: (typeof SEEN_ROWS)[number];
  readonly trial: number;
  /** With as many branches, or as many fruit weighed, on each tree in each season as there were. */
  readonly holds: boolean;
  /** Every tree in every season alike, however many its branches. */
  readonly holdsEven: boolean;
  /** Of the upper end to the lower. */
  readonly factor: number;
  /** Fruit that the figure rests on, as expected. */
  readonly fruit: number;
}

const CONFIDENCE = 90;

/** Intervals of `yield` and `weights` by cultivar in gardens of a kind, the seasons together and each by itself. */
export async function seenRows(
  kind: GardenKind,
  trials: number,
  firstSeed: number,
): Promise<SeenRow[]> {
  const rows: SeenRow[] = [];
  for (const trial of upTo(trials)) {
    const grown = garden(kind, firstSeed + trial);
    const luck = chance(firstSeed + trial + 0.5 * 2 ** 31);
    const seasons = upTo(kind.seasons).map((season) => writeSeason(grown, season, luck));
    const ledger = ledgerFrom(gardenFiles(grown, seasons, { increase_above: 7, discard_below: 5 }));
    for (const part of SEEN_PARTS) {
      const truth = seenTruth(grown, seasons, part, luck);
      for (const by of SEEN_ROWS) {
        for (const told of await intervals(ledger, part, by)) {
          rows.push({ part, by, trial, ...held(part, told, truth) });
        }
      }
    }
  }
  return rows;
}

interface Told {
  readonly cultivar: number;
  readonly season: number | undefined;
  readonly low: number;
  readonly high: number;
}

async function intervals(ledger: Ledger, part: SeenPart, by: SeenRow['by']): Promise<Told[]> {
  const keys = by.split(',') as ('cultivar' | 'season')[];
  const asked = { by: keys, confidence: CONFIDENCE };
  const { rows } =
    part === 'productivity' ? await yields(ledger, asked) : await weights(ledger, asked);
  const ends =
    part === 'productivity' ? ['fruitPerBranchLow', 'fruitPerBranchHigh'] : ['low', 'high'];
  return (rows as unknown as readonly Readonly<Record<string, unknown>>[]).flatMap((row) => {
    const [low, high] = ends.map((end) => row[end]);
    if (typeof low !== 'number' || typeof high !== 'number') return [];
    return {
      cultivar: Number(String(row['cultivar']).split(' ').at(-1)),
      season: keys.includes('season') ? Number(row['season']) - FIRST_YEAR : undefined,
      low,
      high,
    };
  });
}

function held(part: SeenPart, { cultivar, season, low, high }: Told, truth: readonly SeenTruth[]) {
  const own = truth.filter(
    (one) => one.cultivar === cultivar && (season === undefined || one.season === season),
  );
  const over = (of: (one: SeenTruth) => number) => own.reduce((sum, one) => sum + of(one), 0);
  const fruit = over(({ units, expected }) => units * expected);
  const units = over((one) => one.units);
  const isWithin = (value: number) => low <= value && value <= high;
  return {
    holds: isWithin(fruit / units),
    holdsEven: isWithin(over(({ expected }) => expected) / own.length),
    factor: high / low,
    fruit: part === 'productivity' ? fruit : units,
  };
}
