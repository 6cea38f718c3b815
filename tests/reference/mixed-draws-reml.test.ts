import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { mixedDraws } from '../../src/stats/mixed/mixed-draws.ts';
import { drawMoments } from '../support/draw-moments.ts';

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

describe('draws of a one-way mixed model beside restricted maximum likelihood', () => {
  it.each(cases.map((one) => [one.id, one] as const))('%s', (_id, { data, expected }) => {
    const [values = [], groups = []] = Object.values(data.columns);
    const y = values.map(Number);
    const {
      level,
      blup,
      se_prediction_error: se,
    } = Object.values(expected.blups)[0] ?? {
      level: [],
      blup: [],
      se_prediction_error: [],
    };
    const item = groups.map((group) => level.indexOf(String(group)));
    const zero = y.map(() => 0);
    const [between = 0, within = 0] = Object.values(expected.sd_components);
    const drawn = mixedDraws(
      { y, item, season: zero, tree: item, plate: item, block: zero, factors: [] },
      // Items and residual alone, and a prior so wide that it says little.
      {
        draws: 10_000,
        seed: 1,
        scale: 2 * between,
        prior: { item: 1, season: 0, tree: 0, plate: 0 },
      },
    );
    const { mean } = drawMoments(drawn.items);
    const middle = Object.values(expected.fixed)[0] ?? 0;
    blup.forEach((effect, k) => {
      // Six groups leave the spread between them open, so agreement is to a fraction of the standard error.
      expect(Math.abs((mean[k] as number) - middle - effect)).toBeLessThan(0.2 * (se[k] ?? 0));
    });
    const median = (draws: Float64Array) => draws.toSorted()[draws.length / 2] ?? 0;
    expect(Math.abs(Math.log(median(drawn.spreads.residual) / within))).toBeLessThan(0.15);
    expect(Math.abs(Math.log(median(drawn.spreads.item) / between))).toBeLessThan(0.25);
  });
});
