import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { effectPlaces } from '../../src/stats/joint/effect-places.ts';
import { EffectSolver } from '../../src/stats/joint/effect-solver.ts';
import { ITEM, type JointPart } from '../../src/stats/joint/joint-trial.ts';
import { partCells } from '../../src/stats/joint/part-cells.ts';

type Case = {
  id: string;
  data: { columns: Record<string, (number | string)[]> };
  expected: {
    fixed: Record<string, number>;
    sd_components: Record<string, number>;
    blups: Record<string, { level: string[]; blup: number[]; se_prediction_error: number[] }>;
  };
};

// Rail: Devore 2000; Pinheiro and Bates 2000, Mixed-Effects Models in S and S-PLUS, ch. 1. Dyestuff: Davies and
// Goldsmith 1972, Statistical Methods in Research and Production, 6.4. Predictions by restricted maximum likelihood.
const { cases }: { cases: Case[] } = JSON.parse(
  readFileSync(new URL('reml-blup.json', import.meta.url), 'utf8'),
);

describe('what an item is worth, at spreads and a level that are known, is its best linear unbiased prediction', () => {
  it.each(cases.map((one) => [one.id, one] as const))('%s', (_id, { data, expected }) => {
    const [values = [], groups = []] = Object.values(data.columns);
    const { level = [], blup = [] } = Object.values(expected.blups)[0] ?? {};
    const [between = 0, within = 0] = Object.values(expected.sd_components);
    const [middle = 0] = Object.values(expected.fixed);
    const y = values.map((value) => Number(value) - middle);
    const item = groups.map((group) => level.indexOf(String(group)));
    const zero = y.map(() => 0);
    const part: JointPart = {
      y,
      item,
      season: zero,
      tree: item,
      site: zero,
      plate: y.map((_, at) => at),
      block: zero,
      scale: between,
    };
    const cells = partCells(part);
    const places = effectPlaces({ items: level.length, sites: 1, parts: [part] }, [cells]);
    const weight = new Float64Array(places.spots);
    const right = new Float64Array(places.spots);
    cells.plateMean.forEach((mean, plate) => {
      const spot = places.plateSpot[0]?.[plate] as number;
      weight[spot] = (weight[spot] as number) + 1 / within ** 2;
      right[spot] = (right[spot] as number) + (mean + cells.middle) / within ** 2;
    });
    // Of a tree and a season of their own there is nothing in these data.
    const precisions = [between, 1e-5, 1, 1e-5].map((sd) => Float64Array.of(1 / sd ** 2));
    const solver = new EffectSolver(places, precisions, weight, right);
    for (let at = 0; at < level.length; at++) {
      solver.draw(at, { normals: (into) => into.fill(0) });
    }
    // The published spreads have five to six digits.
    blup.forEach((effect, at) => {
      expect(solver.effects[ITEM]?.[at]).toBeCloseTo(effect, 3);
    });
  });
});
