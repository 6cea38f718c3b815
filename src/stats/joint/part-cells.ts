import type { JointPart } from './joint-trial.ts';

/** A part's observations boiled down to plate means, item by item, with what is left within plates. */
export interface PartCells {
  readonly blocks: number;
  /** The sites where anything of the part was seen, in order. */
  readonly sites: Int32Array;
  /** Columns of the design: one a site, then effect-coded judges. */
  readonly columns: number;
  readonly observations: number;
  readonly plates: number;
  /** By observation, where its plate stands. */
  readonly placeOf: Int32Array;
  /** Taken off all values, so that levels lie about 0. */
  readonly middle: number;
  readonly plateMean: Float64Array;
  readonly plateSize: Float64Array;
  readonly plateVariance: Float64Array;
  readonly plateBlock: Int32Array;
  readonly plateItem: Int32Array;
  readonly plateSeason: Int32Array;
  readonly plateSite: Int32Array;
  readonly plateTree: Int32Array;
  /** Infinite for grown trees. */
  readonly plateAge: Float64Array;
  /** plates x columns, the plate's mean design row. */
  readonly design: Float64Array;
  /** Cross-products of what varies within plates: columns x columns, columns, and one number. */
  readonly withinDesign: Float64Array;
  readonly withinProduct: Float64Array;
  withinSquare: number;
  readonly hasKnownVariance: boolean;
}

/**
 * Boils observations down to what the model needs; its cost from there on depends on plates alone.
 *
 * Judges are effect-coded (the last is minus the sum of the others), so that the level of a site is that before the
 * average judge.
 */
export function partCells(part: JointPart): PartCells {
  const { first, plateOf } = platesByItem(part);
  const coding = coded(part);
  const { columns, sites } = coding;
  const plates = first.length;
  const middle = meanOf(part.y);
  const y = Float64Array.from(part.y, (value) => value - middle);
  const plateSize = plateSizes(plateOf, plates);
  const plateMean = plateMeans(y, plateOf, plateSize);
  const design = meanDesign(coding, plateOf, plateSize);
  const at = (of: readonly number[]) => Int32Array.from(first, (one) => of[one] as number);
  return {
    blocks: levelCount(part.block),
    sites,
    columns,
    observations: y.length,
    plates,
    placeOf: plateOf,
    middle,
    plateMean,
    plateSize,
    plateVariance: Float64Array.from(first, (one) => part.variance?.[one] ?? 0),
    plateBlock: at(part.block),
    plateItem: at(part.item),
    plateSeason: at(part.season),
    plateSite: at(part.site),
    plateTree: at(part.tree),
    plateAge: Float64Array.from(first, (one) => part.age?.[one] ?? Number.POSITIVE_INFINITY),
    design,
    ...withinPlates(y, coding, plateOf, { plateMean, plateSize, design }),
    hasKnownVariance: part.variance !== undefined,
  };
}

// Each loop in a function of its own: the engine optimises those one by one while they run.

function meanOf(values: readonly number[]): number {
  let sum = 0;
  for (let at = 0; at < values.length; at++) sum += values[at] as number;
  return sum / Math.max(1, values.length);
}

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
function meanDesign(coding: Coding, plateOf: Int32Array, plateSize: Float64Array): Float64Array {
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
    design[cell] = (design[cell] as number) / (plateSize[Math.floor(cell / columns)] as number);
  }
  return design;
}

/** The plates, item by item and else in the order in which they come: the first observation of each. */
function platesByItem({ plate, item }: JointPart) {
  const { first, numberOf } = numbered(plate);
  const order = Int32Array.from(first.keys()).sort(
    (a, b) => (item[first[a] as number] as number) - (item[first[b] as number] as number) || a - b,
  );
  const placeOf = new Int32Array(order.length);
  for (let place = 0; place < order.length; place++) placeOf[order[place] as number] = place;
  return {
    first: order.map((one) => first[one] as number),
    plateOf: numberOf.map((one) => placeOf[one] as number),
  };
}

/** Numbers from 0 on for what comes under some ids, and where each comes first. */
function numbered(ids: readonly number[]) {
  const numbers = new Map<number, number>();
  const first: number[] = [];
  const numberOf = new Int32Array(ids.length);
  for (let at = 0; at < ids.length; at++) {
    const id = ids[at] as number;
    let own = numbers.get(id);
    if (own === undefined) {
      own = first.length;
      numbers.set(id, own);
      first.push(at);
    }
    numberOf[at] = own;
  }
  return { first, numberOf };
}

function levelCount(levels: readonly number[]): number {
  let count = 0;
  for (let at = 0; at < levels.length; at++) count = Math.max(count, (levels[at] as number) + 1);
  return count;
}

/** The design: place of the site and the judge of each observation, and how many there are. */
interface Coding {
  readonly columns: number;
  readonly sites: Int32Array;
  readonly siteAt: Int32Array;
  readonly judge: Int32Array;
  readonly judges: number;
}

function coded({ site, judge }: JointPart): Coding {
  const sites = Int32Array.from(new Set(site)).sort();
  const place = new Map(Array.from(sites, (one, at) => [one, at]));
  const judges = Math.max(1, levelCount(judge ?? []));
  return {
    columns: sites.length + judges - 1,
    sites,
    siteAt: Int32Array.from(site, (one) => place.get(one) ?? 0),
    judge: Int32Array.from(judge ?? site.map(() => 0)),
    judges,
  };
}

/** Puts the design row of an observation in `row`. */
function codeRow({ siteAt, sites, judge, judges }: Coding, at: number, row: Float64Array): void {
  row.fill(0);
  row[siteAt[at] as number] = 1;
  const own = judge[at] as number;
  if (own < 0) return;
  if (own < judges - 1) row[sites.length + own] = 1;
  else row.fill(-1, sites.length);
}

function withinPlates(
  y: Float64Array,
  coding: Coding,
  plateOf: Int32Array,
  { plateMean, plateSize, design }: Pick<PartCells, 'plateMean' | 'plateSize' | 'design'>,
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
      if (x === 0) continue;
      withinProduct[k] = (withinProduct[k] as number) + x * rest;
      for (let l = 0; l < columns; l++) {
        const cell = k * columns + l;
        withinDesign[cell] = (withinDesign[cell] as number) + x * (row[l] as number);
      }
    }
  }
  return { withinDesign, withinProduct, withinSquare };
}
