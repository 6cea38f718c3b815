import { describe, expect, it } from 'vitest';
import { type SeededRandom, seededRandom } from '../random/seeded-random.ts';
import { JOINT_PRIOR, type JointPrior } from './joint-prior.ts';
import { JointSampler } from './joint-sampler.ts';
import { type JointPart, type JointTrial, LEVELS } from './joint-trial.ts';
import { partCells } from './part-cells.ts';
import type { PartChain } from './part-chain.ts';

// Getting it right: the chain and fresh data in turns must leave the prior as it is (Geweke 2004, JASA 99:799-804).
// A wrong density, Jacobian or direction anywhere shows as a shift of some unknown.

/** Levels near 0, so that they wander through their prior in the time of a test. */
const PRIOR: JointPrior = { ...JOINT_PRIOR, levels: 0.5 };

const ITEMS = 5;
const TREES = [0, 0, 1, 2, 2, 3, 4];
const SITES = [0, 1, 0, 1, 1, 0, 1];

/** Trees in two seasons at two sites; a judged part of two judges, and a counted one, of young trees. */
function trial(): JointTrial {
  const rows = [0, 1].flatMap((season) =>
    TREES.map((item, tree) => ({ item, tree, season, site: SITES[tree] ?? 0 })),
  );
  // Few plates have both judges, so that the spread within plates wanders too.
  const scored = rows.flatMap((row, plate) =>
    (row.tree % 3 === 0 ? [0, 1] : [plate % 2]).map((judge) => ({ ...row, plate, judge })),
  );
  // Someone else only put four plates in order, two of them tied.
  const ordered = rows.slice(0, 4).map((row, plate) => ({ ...row, plate, judge: -1 }));
  const judged = [...scored, ...ordered];
  const [best, one, other, last] = ordered.map((_, at) => scored.length + at);
  const age = ({ tree, season }: { tree: number; season: number }) =>
    tree % 3 === 0 ? Number.POSITIVE_INFINITY : 1 + (tree % 3) + season;
  const groups = <Row extends (typeof rows)[number]>(of: readonly Row[]) => ({
    item: of.map(({ item }) => item),
    tree: of.map(({ tree }) => tree),
    season: of.map(({ season }) => season),
    site: of.map(({ site }) => site),
    block: of.map(({ season }) => season),
    age: of.map(age),
  });
  return {
    items: ITEMS,
    sites: 2,
    parts: [
      {
        ...groups(judged),
        y: judged.map((_, at) => Math.sin(at)),
        plate: judged.map(({ plate }) => plate),
        judge: judged.map(({ judge }) => judge),
        orders: [[[best ?? 0], [one ?? 0, other ?? 0], [last ?? 0]]],
        aging: 'earns',
        scale: 1.5,
      },
      {
        ...groups(rows),
        y: rows.map((_, at) => Math.cos(at)),
        plate: rows.map((_, plate) => plate),
        variance: rows.map((_, at) => 0.05 + 0.02 * (at % 3)),
        aging: 'divides',
        scale: 0.5,
      },
    ],
  };
}

/** Puts fresh data in place of those that the chain has seen, as its present state would have them. */
function observeAnew(sampler: JointSampler, part: JointPart, k: number, random: SeededRandom) {
  const chain = sampler.parts[k] as PartChain;
  const { cells, levels } = chain;
  const count = sampler.parts.length;
  const fit = new Float64Array(sampler.places.spots * count);
  sampler.effects.fit(fit);
  const plateOf = new Map<number, number>();
  const y: number[] = [];
  const values = new Float64Array(cells.plates);
  part.y.forEach((_, at) => {
    const plate = part.plate[at] as number;
    if (!plateOf.has(plate)) {
      const p = plateOf.size;
      plateOf.set(plate, p);
      // Rows of the trial come item by item only after sorting: find the plate by what it is.
      const place = [...cells.plateTree.keys()].find(
        (one) =>
          cells.plateTree[one] === part.tree[at] && cells.plateSeason[one] === part.season[at],
      ) as number;
      values[p] =
        (fit[(chain.spot[place] as number) * count + k] as number) +
        (levels.block[part.block[at] as number] as number) +
        (levels.column[part.site[at] as number] as number) -
        chain.earned * (chain.loss[place] as number) +
        Math.sqrt(chain.plate ** 2 + (cells.plateVariance[place] as number)) * random.normal();
    }
    const judge = part.judge?.[at];
    const harsh =
      judge === undefined || judge < 0 ? 0 : (judge === 0 ? 1 : -1) * (levels.column[2] as number);
    const grown =
      part.aging === 'divides' ? 1 - Math.exp(-(part.age?.[at] as number) / sampler.pace) : 1;
    const value = values[plateOf.get(plate) as number] as number;
    y.push((value + harsh + chain.residual * random.normal() + cells.middle) * Math.sqrt(grown));
  });
  const fresh = partCells({ ...part, y });
  cells.plateMean.set(fresh.plateMean.map((mean) => mean + fresh.middle - cells.middle));
  chain.raw.set(cells.plateMean);
  cells.withinProduct.set(fresh.withinProduct);
  Object.assign(cells, { withinSquare: fresh.withinSquare });
  orderAnew(chain, fresh.middle - cells.middle, partLatent(part, y, fresh));
  chain.withinSquare = Math.max(0, chain.levels.withinSquare());
  chain.ageBy(sampler.pace);
  chain.takeLevels();
}

/** Latent scores of fresh data. */
function partLatent(part: JointPart, y: readonly number[], fresh: ReturnType<typeof partCells>) {
  return (part.orders ?? []).flat(2).map((row) => (y[row] as number) - fresh.middle);
}

/** Tells of fresh latent scores no more than someone would who puts them in order and ties the middle ones. */
function orderAnew({ latent }: PartChain, shift: number, values: readonly number[]): void {
  if (latent === undefined) return;
  latent.y.set(values.map((value) => value + shift));
  const best = [...latent.y.keys()].toSorted((a, b) => (latent.y[b] ?? 0) - (latent.y[a] ?? 0));
  const [ranks = []] = latent.orders;
  let next = 0;
  for (const rank of ranks) {
    for (const at of rank.keys()) rank[at] = best[next++] ?? 0;
  }
}

/** What is held against the prior, on scales without heavy tails. */
function unknowns(sampler: JointSampler): Map<string, number> {
  const told = new Map<string, number>();
  sampler.parts.forEach(({ plate, residual, scale, blockSpread, cells }, k) => {
    LEVELS.forEach((level, at) => {
      told.set(`${level} ${k}`, Math.log(sampler.spread(k, at) / scale));
    });
    told.set(`plate ${k}`, Math.log(plate / scale));
    told.set(`block ${k}`, Math.log(blockSpread / scale));
    if (!cells.hasKnownVariance) told.set(`residual ${k}`, Math.log(residual / scale));
  });
  for (const [at, name] of [...LEVELS, 'plate'].entries()) {
    told.set(`${name} in common`, Math.log(sampler.shares.of(at)));
  }
  LEVELS.forEach((level, at) => {
    told.set(`z ${level}`, sampler.together.z[at]?.[0] as number);
  });
  told.set('z pair', sampler.together.pair[0] as number);
  told.set('z centre', sampler.together.centre);
  told.set('pace', Math.log(sampler.pace));
  told.set('earned', (sampler.parts[0] as PartChain).earned);
  return told;
}

function fromPrior(random: SeededRandom): Map<string, number> {
  const told = new Map<string, number>();
  const { shares, together, pace, earned } = PRIOR;
  const halfT = () => {
    const chi = 2 * random.gamma(1.5);
    return Math.log(Math.abs(random.normal()) / Math.sqrt(chi / 3));
  };
  const names = [...LEVELS, 'plate'] as const;
  const split = (shapes: readonly number[]) => {
    const gammas = shapes.map((shape) => random.gamma(shape));
    const sum = gammas.reduce((a, b) => a + b, 0);
    return gammas.map((gamma) => gamma / sum);
  };
  const common = split(names.map((name) => shares.centre[name]));
  names.forEach((name, at) => {
    told.set(`${name} in common`, Math.log(common[at] as number));
  });
  for (const k of [0, 1]) {
    // Half the logarithm of an F variate with 3 and 3 degrees of freedom.
    const total = (Math.log(random.gamma(1.5)) - Math.log(random.gamma(1.5))) / 2;
    const own = split(common.map((share) => shares.near * share));
    names.forEach((name, at) => {
      told.set(`${name} ${k}`, total + Math.log(own[at] as number) / 2);
    });
    told.set(`block ${k}`, halfT());
  }
  told.set('residual 0', halfT());
  const centre = together.centre.mean + together.centre.sd * random.normal();
  const pair = centre + together.pair * random.normal();
  told.set('z centre', centre);
  told.set('z pair', pair);
  for (const level of LEVELS) told.set(`z ${level}`, pair + together.level * random.normal());
  told.set('pace', pace.mean + pace.sd * random.normal());
  told.set('earned', 1.5 * (earned.mean + earned.sd * random.normal()));
  return told;
}

/** Means of first and second powers, with the standard errors of means of batches. */
function moments(rows: readonly Map<string, number>[], batches: number) {
  const found = new Map<string, { mean: number; se: number }>();
  const size = Math.floor(rows.length / batches);
  for (const name of rows[0]?.keys() ?? []) {
    for (const power of [1, 2]) {
      const means = Array.from({ length: batches }, (_, batch) => {
        let sum = 0;
        for (let at = batch * size; at < (batch + 1) * size; at++) {
          // Bounded, so that a rare walk into a tail does not outweigh all else.
          sum += Math.tanh((rows[at]?.get(name) as number) / 2) ** power;
        }
        return sum / size;
      });
      const mean = means.reduce((a, b) => a + b, 0) / batches;
      const square = means.reduce((sum, one) => sum + (one - mean) ** 2, 0);
      found.set(`${name}^${power}`, { mean, se: Math.sqrt(square / (batches - 1) / batches) });
    }
  }
  return found;
}

describe('the joint chain', () => {
  it('leaves its prior as it is when the data are drawn anew each round', () => {
    const random = seededRandom(2);
    const seen = trial();
    const sampler = new JointSampler(seen, PRIOR, random);
    const rows: Map<string, number>[] = [];
    const [warmUp, rounds] = [1_000, 15_000];
    for (let round = 0; round < warmUp + rounds; round++) {
      sampler.advance();
      seen.parts.forEach((part, k) => {
        observeAnew(sampler, part, k, random);
      });
      if (round === warmUp) sampler.freeze();
      if (round >= warmUp) rows.push(unknowns(sampler));
    }
    const chain = moments(rows, 15);
    const prior = moments(
      Array.from({ length: 100_000 }, () => fromPrior(random)),
      30,
    );
    const off = [...chain].map(([name, { mean, se }]) => {
      const expected = prior.get(name) as { mean: number; se: number };
      return [name, (mean - expected.mean) / Math.hypot(se, expected.se)] as const;
    });
    for (const [name, distance] of off) expect(Math.abs(distance), name).toBeLessThan(4);
  });
});
