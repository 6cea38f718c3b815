import { CONFIDENCE } from '../measure/confidence.ts';
import type { CropRecord } from '../measure/crop-record.ts';
import { groupBy } from '../measure/group-by.ts';
import { soundnessFigures } from '../measure/soundness-figures.ts';
import { meanWeight } from '../measure/weight-figures.ts';
import { fruitPerBranch } from '../measure/yield-figures.ts';
import { CROPS, type Crop } from '../model/ledger.ts';
import { median } from '../stats/describe/quantile.ts';

/** Figures that are set against each other: fruit per branch, g, and a share. */
export const MOVED_FIGURES = ['fruitPerBranch', 'meanWeight', 'soundShare'] as const;
export type MovedFigure = (typeof MOVED_FIGURES)[number];

/** A figure of one cultivar's crop, before and after. */
export interface FigureMove {
  /** Key. */
  readonly cultivar: string;
  readonly crop: Crop;
  readonly before: number | undefined;
  readonly after: number | undefined;
  /** after - before */
  readonly change: number | undefined;
  /** (after - before) / before; undefined where it was nothing. */
  readonly relative: number | undefined;
  /** Trees that the later figure rests on, or the earlier where there is no later one. */
  readonly trees: number;
}

/**
 * A figure of each cultivar's crop in two sets of records; crops apart, early first, and within a
 * crop the greatest change first: of a share the difference, of anything else the ratio.
 *
 * @param alike whether to take only trees that have the figure in both, at the same site, so that
 * neither a new tree nor a move passes for a change
 */
export function figureMoves(
  figure: MovedFigure,
  former: readonly CropRecord[],
  latter: readonly CropRecord[],
  alike: boolean,
): readonly FigureMove[] {
  const known = (records: readonly CropRecord[]) =>
    records.filter((record) => bears(figure, record));
  const [before, after] = alike
    ? common(known(former), known(latter))
    : [known(former), known(latter)];
  const befores = groupBy(before, cellOf);
  const afters = groupBy(after, cellOf);
  return [...new Set([...befores.keys(), ...afters.keys()])]
    .map((cell) => moveOf(figure, befores.get(cell) ?? [], afters.get(cell) ?? []))
    .toSorted(
      (a, b) =>
        CROPS.indexOf(a.crop) - CROPS.indexOf(b.crop) ||
        compareSizes(size(figure, a), size(figure, b)),
    );
}

/** How the figure changed over all cultivars of a crop that have it before and after. */
export interface CommonShift {
  readonly crop: Crop;
  readonly cultivars: number;
  readonly rose: number;
  readonly fell: number;
  /**
   * Median of the differences for a share, of the relative changes for anything else; undefined
   * where half of the cultivars or more rose from nothing, of which no ratio can be told.
   */
  readonly middle: number | undefined;
}

export function commonShifts(
  figure: MovedFigure,
  moves: readonly FigureMove[],
): readonly CommonShift[] {
  return CROPS.flatMap((crop) => {
    const own = moves.filter((move) => move.crop === crop && move.change !== undefined);
    if (own.length === 0) return [];
    const changes = own.map(({ change = 0, relative }) =>
      figure === 'soundShare' ? change : (relative ?? (change > 0 ? Number.MAX_VALUE : 0)),
    );
    const fromNothing = changes.filter((change) => change === Number.MAX_VALUE).length;
    const middle = 2 * fromNothing < own.length ? median(changes) : undefined;
    const rose = own.filter(({ change = 0 }) => change > 0).length;
    const fell = own.filter(({ change = 0 }) => change < 0).length;
    return [{ crop, cultivars: own.length, rose, fell, middle }];
  });
}

function cellOf({ tree, crop }: CropRecord): string {
  return `${crop} ${tree.cultivar.key}`;
}

function bears(figure: MovedFigure, { branches, weights, picked }: CropRecord): boolean {
  if (figure === 'fruitPerBranch') return branches !== undefined;
  return figure === 'meanWeight' ? weights.counted.fruit > 0 : picked > 0;
}

function common(
  before: readonly CropRecord[],
  after: readonly CropRecord[],
): readonly [CropRecord[], CropRecord[]] {
  const place = ({ tree, crop, site }: CropRecord) => JSON.stringify([tree.id, crop, site]);
  const placesBefore = new Set(before.map(place));
  const placesAfter = new Set(after.map(place));
  return [
    before.filter((record) => placesAfter.has(place(record))),
    after.filter((record) => placesBefore.has(place(record))),
  ];
}

function moveOf(
  figure: MovedFigure,
  former: readonly CropRecord[],
  latter: readonly CropRecord[],
): FigureMove {
  const [first] = [...latter, ...former];
  const before = figureOf(figure, former);
  const after = figureOf(figure, latter);
  const change = before === undefined || after === undefined ? undefined : after - before;
  return {
    cultivar: first?.tree.cultivar.key ?? '',
    crop: first?.crop ?? 'main',
    before,
    after,
    change,
    relative: change === undefined || !before ? undefined : change / before,
    trees: new Set((latter.length > 0 ? latter : former).map(({ tree }) => tree)).size,
  };
}

/** Any confidence would do: only the middle of the estimates is used here. */
function figureOf(figure: MovedFigure, records: readonly CropRecord[]): number | undefined {
  if (figure === 'fruitPerBranch') return fruitPerBranch(records, CONFIDENCE)?.value;
  if (figure === 'meanWeight') return meanWeight(records, CONFIDENCE)?.value;
  return soundnessFigures(records, CONFIDENCE).share;
}

/** How great a change is; one from or to nothing is greater than any other. */
function size(figure: MovedFigure, { before, after, change }: FigureMove): number {
  if (change === undefined) return Number.POSITIVE_INFINITY;
  if (change === 0) return 0;
  if (figure === 'soundShare') return Math.abs(change);
  return Math.abs(Math.log((after ?? 0) / (before ?? 0)));
}

function compareSizes(a: number, b: number): number {
  return a === b ? 0 : b - a;
}
