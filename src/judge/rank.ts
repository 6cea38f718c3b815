import type { Selection } from '../measure/selection.ts';
import { CROPS, type Crop, type Ledger } from '../model/ledger.ts';
import { competitionRanks } from '../stats/competition-ranks.ts';
import { sum } from '../stats/sum.ts';
import { type Candidate, candidates } from './index-parts.ts';

/** A cultivar's crop with its place among those that can be compared. */
export interface Ranked extends Candidate {
  /** Weighted mean of the parts on the ledger's scale. */
  readonly index: number;
  /** Within its crop; equal indexes share the better rank. */
  readonly rank: number;
}

/** One that has no index, with the parts that it lacks. */
export interface Unranked extends Candidate {
  readonly lacks: readonly string[];
}

export interface CropRanking {
  readonly crop: Crop;
  /** Best first. */
  readonly ranked: readonly Ranked[];
  readonly unranked: readonly Unranked[];
}

/**
 * Early and main crop ranked apart by the weighted index, sum(weight x part) / sum(weight). No part
 * is made up: a cultivar that lacks one is not ranked.
 */
export function rankCrops(ledger: Ledger, selection: Selection): readonly CropRanking[] {
  const all = candidates(ledger, selection);
  return CROPS.flatMap((crop) => {
    const own = all.filter((one) => one.crop === crop);
    return own.length === 0 ? [] : [rankCrop(crop, own)];
  });
}

function rankCrop(crop: Crop, all: readonly Candidate[]): CropRanking {
  const told = all.map((one) => ({ one, index: indexOf(one) }));
  const withIndex = told.flatMap(({ one, index }) => (index === undefined ? [] : [{ one, index }]));
  const ranks = competitionRanks(withIndex.map(({ index }) => index));
  return {
    crop,
    ranked: withIndex
      .map(({ one, index }, at) => ({ ...one, index, rank: ranks[at] ?? 1 }))
      .toSorted((a, b) => a.rank - b.rank),
    unranked: told
      .filter(({ index }) => index === undefined)
      .map(({ one }) => ({ ...one, lacks: lacking(one) })),
  };
}

function indexOf({ parts }: Candidate): number | undefined {
  const weight = sum(parts.map((part) => part.weight));
  if (weight === 0 || parts.some(({ onScale }) => onScale === undefined)) return undefined;
  return sum(parts.map((part) => part.weight * (part.onScale ?? 0))) / weight;
}

function lacking({ parts }: Candidate): readonly string[] {
  return parts.filter(({ onScale }) => onScale === undefined).map(({ part }) => part);
}
