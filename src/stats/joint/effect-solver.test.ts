import { inverse, Matrix } from 'ml-matrix';
import { describe, expect, it } from 'vitest';
import { effectPlaces } from './effect-places.ts';
import { EffectSolver } from './effect-solver.ts';
import { type JointPart, LEVELS } from './joint-trial.ts';
import { partCells } from './part-cells.ts';

// Two items; the second has two trees, one of which moves to another site in its second season. Part 1 lacks a row.
const rows = [
  { item: 0, season: 0, tree: 0, site: 0 },
  { item: 0, season: 1, tree: 0, site: 0 },
  { item: 1, season: 0, tree: 1, site: 0 },
  { item: 1, season: 1, tree: 1, site: 1 },
  { item: 1, season: 1, tree: 2, site: 1 },
  { item: 1, season: 2, tree: 2, site: 1 },
];
const PARTS = 2;
const partOf = (kept: typeof rows): JointPart => ({
  y: kept.map((_, at) => at),
  item: kept.map(({ item }) => item),
  season: kept.map(({ season }) => season),
  tree: kept.map(({ tree }) => tree),
  site: kept.map(({ site }) => site),
  plate: kept.map((_, at) => at),
  block: kept.map(() => 0),
  scale: 1,
});
const parts = [partOf(rows), partOf(rows.slice(0, 5))];
const places = effectPlaces({ items: 2, sites: 2, parts }, parts.map(partCells));

/** Covariances of effects over the parts, by level. */
const COVARIANCES = [
  [1.2, 0.5, 0.5, 0.8],
  [0.6, -0.2, -0.2, 0.5],
  [0.3, 0.1, 0.1, 0.2],
  [0.4, 0.3, 0.3, 0.4],
].map((values) => new Matrix([values.slice(0, 2), values.slice(2)]));

const noise = (spot: number, part: number) => 0.3 + 0.1 * spot + 0.2 * part;
const seen = (spot: number, part: number) => Math.sin(1 + 3 * spot + part);
const isSeen = (spot: number, part: number) => !(part === 1 && spot === places.spots - 1);

function solver(): EffectSolver {
  const weight = new Float64Array(places.spots * PARTS);
  const right = new Float64Array(places.spots * PARTS);
  for (let spot = 0; spot < places.spots; spot++) {
    for (let part = 0; part < PARTS; part++) {
      if (!isSeen(spot, part)) continue;
      weight[spot * PARTS + part] = 1 / noise(spot, part);
      right[spot * PARTS + part] = seen(spot, part) / noise(spot, part);
    }
  }
  const precisions = COVARIANCES.map((one) => Float64Array.from(inverse(one).to1DArray()));
  return new EffectSolver(places, precisions, weight, right);
}

/**
 * Best linear unbiased prediction by the covariance of what was seen, V = Z G Z' + R, with no system of equations of
 * the effects: G Z' V^-1 y, and its error G - G Z' V^-1 Z G (Henderson 1975, Biometrics 31:423-447).
 */
function dense() {
  const from = [0, 0, 0, 0];
  places.counts.reduce((sum, count, level) => {
    from[level] = sum;
    return sum + count * PARTS;
  }, 0);
  const size = places.counts.reduce((sum, count) => sum + count * PARTS, 0);
  const g = Matrix.zeros(size, size);
  places.counts.forEach((count, level) => {
    for (let at = 0; at < count; at++) {
      const start = (from[level] as number) + at * PARTS;
      g.setSubMatrix(COVARIANCES[level] as Matrix, start, start);
    }
  });
  const observed = Array.from({ length: places.spots * PARTS }, (_, at) => at).filter((at) =>
    isSeen(Math.floor(at / PARTS), at % PARTS),
  );
  const z = Matrix.zeros(observed.length, size);
  observed.forEach((at, row) => {
    const [spot, part] = [Math.floor(at / PARTS), at % PARTS];
    [places.spotItem, places.spotSeason, places.spotSite, places.spotTree].forEach((of, level) => {
      z.set(row, (from[level] as number) + (of[spot] as number) * PARTS + part, 1);
    });
  });
  const r = Matrix.diag(observed.map((at) => noise(Math.floor(at / PARTS), at % PARTS)));
  const y = Matrix.columnVector(observed.map((at) => seen(Math.floor(at / PARTS), at % PARTS)));
  const gz = g.mmul(z.transpose());
  const gain = gz.mmul(inverse(z.mmul(gz).add(r)));
  return { from, mean: gain.mmul(y).to1DArray(), error: g.clone().sub(gain.mmul(z).mmul(g)) };
}

describe('EffectSolver', () => {
  const { from, mean, error } = dense();
  const own = solver();
  const still = { normals: (into: Float64Array) => into.fill(0) };

  it('has the best linear unbiased predictions of all effects at its centre', () => {
    for (const item of [0, 1]) own.draw(item, still);
    LEVELS.forEach((_, level) => {
      own.effects[level]?.forEach((effect, at) => {
        expect(effect).toBeCloseTo(mean[(from[level] as number) + at] ?? Number.NaN, 10);
      });
    });
  });

  it('draws an item and its sites about them with the right covariances', () => {
    const item = 1;
    own.draw(item, still);
    const last = own.lastUnknowns(item);
    const [first, second] = [0, 1].map((site) => (places.firstSite[item] as number) + site);
    const at = [
      ...[first, second].flatMap((site) =>
        [0, 1].map((k) => (from[2] as number) + 2 * (site ?? 0) + k),
      ),
      ...[0, 1].map((k) => 2 * item + k),
    ];
    expect(last).toBe(at.length);
    // Column by column of the factor, by unit noise; its square is the covariance.
    const centre = new Float64Array(last);
    own.drawLast(item, new Float64Array(last), 0, 1, centre);
    const factor = Array.from({ length: last }, (_, k) => {
      const unit = new Float64Array(last);
      unit[k] = 1;
      const into = new Float64Array(last);
      own.drawLast(item, unit, 0, 1, into);
      return [...into].map((value, row) => value - (centre[row] as number));
    });
    for (let row = 0; row < last; row++) {
      expect(centre[row]).toBeCloseTo(mean[at[row] as number] ?? Number.NaN, 10);
      for (let column = 0; column < last; column++) {
        const covariance = factor.reduce(
          (sum, one) => sum + (one[row] as number) * (one[column] as number),
          0,
        );
        expect(covariance).toBeCloseTo(error.get(at[row] as number, at[column] as number), 10);
      }
    }
  });

  it('adds up the effects of each spot', () => {
    for (const item of [0, 1]) own.draw(item, still);
    const fit = new Float64Array(places.spots * PARTS);
    own.fit(fit);
    // The fourth row: second item, second season, second site, its first tree.
    const spot = places.plateSpot[0]?.[3] as number;
    const sum = [places.spotItem, places.spotSeason, places.spotSite, places.spotTree].reduce(
      (total, of, level) =>
        total + (mean[(from[level] as number) + (of[spot] as number) * PARTS] as number),
      0,
    );
    expect(fit[spot * PARTS]).toBeCloseTo(sum, 10);
  });
});
