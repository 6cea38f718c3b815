/** Scores or figures with the groups they belong to; every array has one entry an observation. */
export type MixedObservations = {
  /** The values, on a scale where effects add up. */
  readonly y: readonly number[];
  /** What is compared, 0 to items - 1. */
  readonly item: readonly number[];
  /** The season, any numbering. */
  readonly season: readonly number[];
  /** The single plant (or other repeat of the item), numbered over all items. */
  readonly tree: readonly number[];
  /** The thing that was judged or measured once, shared by its observations (a plate before several tasters). */
  readonly plate: readonly number[];
  /** The sitting or other block, 0 to blocks - 1; all observations of a plate lie in one. */
  readonly block: readonly number[];
  /** Few-level factors that shift a value (taster, site), each 0 to levels - 1. */
  readonly factors: readonly (readonly number[])[];
  /** Known sampling variance of each value, where it has one; then a plate has one observation. */
  readonly variance?: readonly number[] | undefined;
};

/** Observations boiled down to plate means, sorted by item, with what is left within plates. */
export type MixedLayout = {
  readonly items: number;
  readonly blocks: number;
  /** Columns of the factor design: the overall level first, then effect-coded levels. */
  readonly columns: number;
  readonly observations: number;
  readonly plates: number;
  /** Plates of item i are firstPlate[i] up to firstPlate[i + 1]. */
  readonly firstPlate: Int32Array;
  readonly plateMean: Float64Array;
  readonly plateSize: Float64Array;
  readonly plateVariance: Float64Array;
  readonly plateBlock: Int32Array;
  /** Season and tree of the plate, numbered anew within its item. */
  readonly plateSeason: Int32Array;
  readonly plateTree: Int32Array;
  readonly seasonsOf: Int32Array;
  readonly treesOf: Int32Array;
  /** plates x columns, the plate's mean design row. */
  readonly design: Float64Array;
  /** Cross-products of what varies within plates: columns x columns, columns, and one number. */
  readonly withinDesign: Float64Array;
  readonly withinProduct: Float64Array;
  readonly withinSquare: number;
  readonly hasKnownVariance: boolean;
};

/**
 * Boils observations down to what the mixed model needs; its cost from there on depends on plates alone.
 *
 * Factor levels are effect-coded (the last level is minus the sum of the others), so that the overall level is
 * that of the average level of each factor.
 */
export function mixedLayout(seen: MixedObservations): MixedLayout {
  const order = platesByItem(seen);
  const plateAt = new Map(order.map((plate, at) => [plate.id, at]));
  const coding = factorCoding(seen.factors);
  const plates = order.length;
  const columns = coding.columns;
  const items = levelCount(seen.item);
  const plateMean = new Float64Array(plates);
  const plateSize = new Float64Array(plates);
  const plateVariance = new Float64Array(plates);
  const design = new Float64Array(plates * columns);
  const plateOf = Int32Array.from(seen.plate, (id) => plateAt.get(id) ?? 0);
  const row = new Float64Array(columns);
  for (let at = 0; at < seen.y.length; at++) {
    const plate = plateOf[at] as number;
    plateMean[plate] = (plateMean[plate] ?? 0) + (seen.y[at] ?? 0);
    plateSize[plate] = (plateSize[plate] ?? 0) + 1;
    plateVariance[plate] = seen.variance?.[at] ?? 0;
    coding.code(at, row);
    for (let k = 0; k < columns; k++) {
      design[plate * columns + k] = (design[plate * columns + k] ?? 0) + (row[k] ?? 0);
    }
  }
  for (let plate = 0; plate < plates; plate++) {
    const size = plateSize[plate] ?? 1;
    plateMean[plate] = (plateMean[plate] ?? 0) / size;
    for (let k = 0; k < columns; k++) {
      design[plate * columns + k] = (design[plate * columns + k] ?? 0) / size;
    }
  }
  const within = withinPlates(seen.y, coding, plateOf, plateMean, design);
  return {
    items,
    blocks: levelCount(seen.block),
    columns,
    observations: seen.y.length,
    plates,
    ...placesWithinItems(order, items),
    plateMean,
    plateSize,
    plateVariance,
    plateBlock: Int32Array.from(order, (plate) => plate.block),
    design,
    ...within,
    hasKnownVariance: seen.variance !== undefined,
  };
}

type Plate = { id: number; item: number; season: number; tree: number; block: number };

function platesByItem(seen: MixedObservations): Plate[] {
  const plates = new Map<number, Plate>();
  seen.plate.forEach((id, at) => {
    if (plates.has(id)) return;
    plates.set(id, {
      id,
      item: seen.item[at] ?? 0,
      season: seen.season[at] ?? 0,
      tree: seen.tree[at] ?? 0,
      block: seen.block[at] ?? 0,
    });
  });
  return [...plates.values()].sort((a, b) => a.item - b.item);
}

function placesWithinItems(order: readonly Plate[], items: number) {
  const firstPlate = new Int32Array(items + 1);
  const plateSeason = new Int32Array(order.length);
  const plateTree = new Int32Array(order.length);
  const seasonsOf = new Int32Array(items);
  const treesOf = new Int32Array(items);
  let seasons = new Map<number, number>();
  let trees = new Map<number, number>();
  order.forEach((plate, at) => {
    if (order[at - 1]?.item !== plate.item) {
      seasons = new Map();
      trees = new Map();
    }
    plateSeason[at] = numberOf(seasons, plate.season);
    plateTree[at] = numberOf(trees, plate.tree);
    seasonsOf[plate.item] = seasons.size;
    treesOf[plate.item] = trees.size;
    firstPlate[plate.item + 1] = at + 1;
  });
  for (let item = 0; item < items; item++) {
    firstPlate[item + 1] = Math.max(firstPlate[item + 1] ?? 0, firstPlate[item] ?? 0);
  }
  return { firstPlate, plateSeason, plateTree, seasonsOf, treesOf };
}

function levelCount(levels: readonly number[]): number {
  return levels.reduce((count, level) => Math.max(count, level + 1), 0);
}

function numberOf(numbers: Map<number, number>, key: number): number {
  const known = numbers.get(key);
  if (known !== undefined) return known;
  numbers.set(key, numbers.size);
  return numbers.size - 1;
}

/** The factor design, an observation at a time. */
type FactorCoding = {
  readonly columns: number;
  /** Puts the design row of an observation in `row`. */
  code(at: number, row: Float64Array): void;
};

function factorCoding(factors: readonly (readonly number[])[]): FactorCoding {
  const levels = factors.map((factor) => Math.max(1, levelCount(factor)));
  const columns = 1 + levels.reduce((sum, count) => sum + count - 1, 0);
  return {
    columns,
    code(at, row) {
      row.fill(0);
      row[0] = 1;
      let first = 1;
      for (let f = 0; f < factors.length; f++) {
        const last = (levels[f] ?? 1) - 1;
        const level = factors[f]?.[at] ?? 0;
        if (level < last) row[first + level] = 1;
        else row.fill(-1, first, first + last);
        first += last;
      }
    },
  };
}

function withinPlates(
  y: readonly number[],
  { columns, code }: FactorCoding,
  plateOf: Int32Array,
  plateMean: Float64Array,
  design: Float64Array,
) {
  const withinDesign = new Float64Array(columns * columns);
  const withinProduct = new Float64Array(columns);
  let withinSquare = 0;
  const row = new Float64Array(columns);
  for (let at = 0; at < y.length; at++) {
    const plate = plateOf[at] as number;
    const rest = (y[at] ?? 0) - (plateMean[plate] ?? 0);
    code(at, row);
    for (let k = 0; k < columns; k++) row[k] = (row[k] ?? 0) - (design[plate * columns + k] ?? 0);
    withinSquare += rest * rest;
    for (let k = 0; k < columns; k++) {
      const x = row[k] ?? 0;
      withinProduct[k] = (withinProduct[k] ?? 0) + x * rest;
      for (let l = 0; l < columns; l++) {
        withinDesign[k * columns + l] = (withinDesign[k * columns + l] ?? 0) + x * (row[l] ?? 0);
      }
    }
  }
  return { withinDesign, withinProduct, withinSquare };
}
