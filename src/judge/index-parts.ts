import { type CropRecord, selectRecords } from '../measure/crop-record.ts';
import { groupBy } from '../measure/group-by.ts';
import type { Selection } from '../measure/selection.ts';
import { soundnessFigures } from '../measure/soundness-figures.ts';
import { meanWeight } from '../measure/weight-figures.ts';
import { fruitPerBranch } from '../measure/yield-figures.ts';
import type { Cultivar } from '../model/collection.ts';
import {
  CROPS,
  type Crop,
  type Ledger,
  MEASURED_PARTS,
  type MeasuredPart,
} from '../model/ledger.ts';
import { mean } from '../stats/mean.ts';
import { straightLineBand } from '../stats/straight-line-band.ts';
import { sum } from '../stats/sum.ts';
import { type TastedScore, tastedScores } from './tasted-scores.ts';

/** A weighted part of the index of one cultivar and crop. */
export interface PartFigure {
  /** Key of the part: a trait, or a measured part. */
  readonly part: string;
  readonly weight: number;
  /** On the ledger's scale; undefined where there is no evidence. */
  readonly onScale: number | undefined;
  /** As it was measured: fruit per branch, g, or a share; undefined for what is tasted. */
  readonly measured: number | undefined;
}

/** What is known of one cultivar's crop, before anyone compares. */
export interface Candidate {
  readonly cultivar: Cultivar;
  readonly crop: Crop;
  /** Every part that the ledger weighs, in the order of its weights. */
  readonly parts: readonly PartFigure[];
  readonly trees: number;
  readonly seasons: number;
  /** Sittings at which it was tasted ripe. */
  readonly tastings: number;
}

/** Parts that carry a weight above 0. */
export function weighedParts(ledger: Ledger): readonly (readonly [part: string, weight: number])[] {
  return [...ledger.trial.rank.weights].filter(([, weight]) => weight > 0);
}

/** Each cultivar and crop with any entry in the selection, early crops first, in ledger order. */
export function candidates(ledger: Ledger, selection: Selection): readonly Candidate[] {
  const records = groupBy(selectRecords(ledger, selection), ({ tree, crop }) =>
    cellKey(crop, tree.cultivar.key),
  );
  const scores = groupBy(tastedScores(ledger, selection), ({ score }) =>
    cellKey(score.sample.crop, score.sample.tree.cultivar.key),
  );
  return CROPS.flatMap((crop) =>
    [...ledger.cultivars.values()].flatMap((cultivar) => {
      const key = cellKey(crop, cultivar.key);
      const own = records.get(key) ?? [];
      const tasted = scores.get(key) ?? [];
      return own.length + tasted.length === 0
        ? []
        : [candidate(ledger, cultivar, crop, own, tasted)];
    }),
  );
}

function cellKey(crop: Crop, cultivar: string): string {
  return `${crop} ${cultivar}`;
}

function candidate(
  ledger: Ledger,
  cultivar: Cultivar,
  crop: Crop,
  records: readonly CropRecord[],
  scores: readonly TastedScore[],
): Candidate {
  const trees = [
    ...records.map(({ tree }) => tree),
    ...scores.map(({ score }) => score.sample.tree),
  ];
  const seasons = [
    ...records.map(({ season }) => season),
    ...scores.map(({ tasting }) => tasting.season),
  ];
  return {
    cultivar,
    crop,
    parts: weighedParts(ledger).map(([part, weight]) => {
      if (!isMeasured(part))
        return { part, weight, onScale: tasted(scores, part), measured: undefined };
      const measured = measurePart(ledger, part, records);
      const band = ledger.trial.rank.bands.get(part);
      const onScale =
        measured === undefined || band === undefined ? undefined : straightLineBand(band)(measured);
      return { part, weight, onScale, measured };
    }),
    trees: new Set(trees).size,
    seasons: new Set(seasons).size,
    tastings: new Set(scores.map(({ tasting }) => tasting)).size,
  };
}

export function isMeasured(part: string): part is MeasuredPart {
  return (MEASURED_PARTS as readonly string[]).includes(part);
}

function tasted(scores: readonly TastedScore[], trait: string): number | undefined {
  return mean(scores.filter(({ score }) => score.trait === trait).map(({ score }) => score.value));
}

/** Any level would do: only the middle of the estimates is used here. */
const LEVEL = 0.95;

function measurePart(
  ledger: Ledger,
  part: MeasuredPart,
  records: readonly CropRecord[],
): number | undefined {
  switch (part) {
    case 'productivity':
      return fruitPerBranch(records, LEVEL)?.value;
    case 'size':
      return meanWeight(records, LEVEL)?.value;
    case 'soundness':
      return soundnessFigures(records, LEVEL).share;
    case 'ripened':
      return ripenedShare(ledger, records);
  }
}

/** Fruit picked on or before the first frost of its season / load, over seasons with a known frost. */
function ripenedShare(ledger: Ledger, records: readonly CropRecord[]): number | undefined {
  const known = records.flatMap((record) => {
    const frost = ledger.trial.frost.get(record.season);
    return frost === undefined ? [] : [{ record, frost }];
  });
  const load = sum(known.map(({ record }) => record.load.fruit));
  if (load === 0) return undefined;
  const inTime = known.map(({ record, frost }) =>
    sum(record.picks.filter((pick) => pick.on <= frost).map((pick) => pick.fruit)),
  );
  return sum(inTime) / load;
}
