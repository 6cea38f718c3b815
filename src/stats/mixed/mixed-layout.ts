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
  const { y, plates, plateOf } = platesByItem(seen);
  const coding = factorCoding(seen.factors);
  const { columns } = coding;
  const count = plates.length;
  const items = levelCount(seen.item);
  const plateSize = plateSizes(plateOf, count);
  const plateMean = plateMeans(y, plateOf, plateSize);
  const design = meanDesign(coding, plateOf, plateSize);
  return {
    items,
    blocks: levelCount(seen.block),
    columns,
    observations: y.length,
    plates: count,
    ...placesWithinItems(seen, plates, items),
    plateMean,
    plateSize,
    plateVariance: knownVariances(seen, plates),
    plateBlock: plates.map((at) => seen.block[at] as number),
    design,
    ...withinPlates(y, coding, plateOf, { plateMean, plateSize, design }),
    hasKnownVariance: seen.variance !== undefined,
  };
}

// Each loop in a function of its own: the engine optimises those one by one while they run.

function plateSizes(plateOf: Int32Array, plates: number): Float64Array {
  const sizes = new Float64Array(plates);
  for (let at = 0; at < plateOf.length; at++) {
    const plate = plateOf[at] as number;
    sizes[plate] = (sizes[plate] as number) + 1;
  }
  return sizes;
}

function plateMeans(y: Float64Array, plateOf: Int32Array, plateSize: Float64Array): Float64Array {
  const means = new Float64Array(plateSize.length);
  for (let at = 0; at < y.length; at++) {
    const plate = plateOf[at] as number;
    means[plate] = (means[plate] as number) + (y[at] as number);
  }
  for (let plate = 0; plate < means.length; plate++) {
    means[plate] = (means[plate] as number) / (plateSize[plate] as number);
  }
  return means;
}

/** plates x columns: the mean design row of each plate. */
function meanDesign(
  coding: FactorCoding,
  plateOf: Int32Array,
  plateSize: Float64Array,
): Float64Array {
  const { columns } = coding;
  const design = new Float64Array(plateSize.length * columns);
  const row = new Float64Array(columns);
  for (let at = 0; at < plateOf.length; at++) {
    codeRow(coding, at, row);
    const first = (plateOf[at] as number) * columns;
    for (let k = 0; k < columns; k++) {
      design[first + k] = (design[first + k] as number) + (row[k] as number);
    }
  }
  for (let cell = 0; cell < design.length; cell++) {
    const size = plateSize[Math.floor(cell / columns)] as number;
    design[cell] = (design[cell] as number) / size;
  }
  return design;
}

/** By plate, which then has one observation; 0 where no variance is known. */
function knownVariances({ variance }: MixedObservations, plates: Int32Array): Float64Array {
  return Float64Array.from(plates, (at) => variance?.[at] ?? 0);
}

/**
 * The plates, item by item and else in the order in which they come: for each its first observation, and for each
 * observation its plate.
 */
function platesByItem(seen: MixedObservations) {
  const { first, numberOf: plateNumber } = numbered(new Int32Array(seen.plate));
  const itemOf = Int32Array.from(first, (at) => seen.item[at] as number);
  const order = Int32Array.from(first.keys()).sort(
    (a, b) => (itemOf[a] as number) - (itemOf[b] as number) || a - b,
  );
  const placeOf = new Int32Array(order.length);
  for (let place = 0; place < order.length; place++) placeOf[order[place] as number] = place;
  return {
    y: new Float64Array(seen.y),
    plates: order.map((plate) => first[plate] as number),
    plateOf: plateNumber.map((plate) => placeOf[plate] as number),
  };
}

/** Numbers from 0 on for what comes under some ids, and where each comes first. */
function numbered(ids: Int32Array): { readonly first: number[]; readonly numberOf: Int32Array } {
  const numbers = new Map<number, number>();
  const first: number[] = [];
  const all = new Int32Array(ids.length);
  for (let at = 0; at < ids.length; at++) {
    const own = numberOf(numbers, ids[at] as number);
    if (own === first.length) first.push(at);
    all[at] = own;
  }
  return { first, numberOf: all };
}

/** @param plates the first observation of each, item by item */
function placesWithinItems(
  { item: itemOf, season, tree }: MixedObservations,
  plates: Int32Array,
  items: number,
) {
  const firstPlate = new Int32Array(items + 1);
  const plateSeason = new Int32Array(plates.length);
  const plateTree = new Int32Array(plates.length);
  const seasonsOf = new Int32Array(items);
  const treesOf = new Int32Array(items);
  const seasons = new Map<number, number>();
  const trees = new Map<number, number>();
  let before = -1;
  for (let plate = 0; plate < plates.length; plate++) {
    const at = plates[plate] as number;
    const item = itemOf[at] as number;
    if (item !== before) {
      seasons.clear();
      trees.clear();
      before = item;
    }
    plateSeason[plate] = numberOf(seasons, season[at] as number);
    plateTree[plate] = numberOf(trees, tree[at] as number);
    seasonsOf[item] = seasons.size;
    treesOf[item] = trees.size;
    firstPlate[item + 1] = plate + 1;
  }
  for (let item = 0; item < items; item++) {
    firstPlate[item + 1] = Math.max(firstPlate[item + 1] as number, firstPlate[item] as number);
  }
  return { firstPlate, plateSeason, plateTree, seasonsOf, treesOf };
}

function levelCount(levels: readonly number[]): number {
  let count = 0;
  for (let at = 0; at < levels.length; at++) count = Math.max(count, (levels[at] as number) + 1);
  return count;
}

function numberOf(numbers: Map<number, number>, key: number): number {
  const known = numbers.get(key);
  if (known !== undefined) return known;
  numbers.set(key, numbers.size);
  return numbers.size - 1;
}

/** The factor design: levels of each factor by observation, and how many it has. */
type FactorCoding = {
  readonly columns: number;
  readonly factors: readonly { readonly level: Int32Array; readonly levels: number }[];
};

function factorCoding(factors: readonly (readonly number[])[]): FactorCoding {
  const coded = factors.map((factor) => ({
    level: new Int32Array(factor),
    levels: Math.max(1, levelCount(factor)),
  }));
  return { columns: coded.reduce((sum, { levels }) => sum + levels - 1, 1), factors: coded };
}

/** Puts the design row of an observation in `row`. */
function codeRow({ factors }: FactorCoding, at: number, row: Float64Array): void {
  row.fill(0);
  row[0] = 1;
  let first = 1;
  for (let f = 0; f < factors.length; f++) {
    const { level, levels } = factors[f] as FactorCoding['factors'][number];
    const own = level[at] as number;
    if (own < levels - 1) row[first + own] = 1;
    else for (let k = first; k < first + levels - 1; k++) row[k] = -1;
    first += levels - 1;
  }
}

function withinPlates(
  y: Float64Array,
  coding: FactorCoding,
  plateOf: Int32Array,
  { plateMean, plateSize, design }: Pick<MixedLayout, 'plateMean' | 'plateSize' | 'design'>,
) {
  const { columns } = coding;
  const withinDesign = new Float64Array(columns * columns);
  const withinProduct = new Float64Array(columns);
  let withinSquare = 0;
  const row = new Float64Array(columns);
  for (let at = 0; at < y.length; at++) {
    const plate = plateOf[at] as number;
    // Nothing varies within a plate of one observation.
    if (plateSize[plate] === 1) continue;
    const rest = (y[at] as number) - (plateMean[plate] as number);
    codeRow(coding, at, row);
    for (let k = 0; k < columns; k++) {
      row[k] = (row[k] as number) - (design[plate * columns + k] as number);
    }
    withinSquare += rest * rest;
    for (let k = 0; k < columns; k++) {
      const x = row[k] as number;
      withinProduct[k] = (withinProduct[k] as number) + x * rest;
      for (let l = 0; l < columns; l++) {
        const cell = k * columns + l;
        withinDesign[cell] = (withinDesign[cell] as number) + x * (row[l] as number);
      }
    }
  }
  return { withinDesign, withinProduct, withinSquare };
}
