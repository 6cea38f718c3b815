import { describe, expect, it } from 'vitest';
import { chance, type Shape } from './chance.ts';
import { EQUAL_KINDS, GARDEN_KINDS } from './garden-kinds.ts';
import { grow } from './garden-tally.ts';

const [plain] = GARDEN_KINDS;
const [equal] = EQUAL_KINDS;
if (plain === undefined || equal === undefined) throw new Error('no garden');

function moments(values: readonly number[]) {
  const mean = values.reduce((sum, value) => sum + value, 0) / values.length;
  const variance = values.reduce((sum, value) => sum + (value - mean) ** 2, 0) / values.length;
  return { mean, variance };
}

describe('chance', () => {
  it.each<Shape>(['even', 'peaked', 'leaning', 'bell'])(
    'gives %s shapes of mean 0 and spread 1',
    (shape) => {
      const luck = chance(7);
      const { mean, variance } = moments(Array.from({ length: 40_000 }, () => luck.shape(shape)));
      expect(Math.abs(mean)).toBeLessThan(0.02);
      expect(Math.abs(variance - 1)).toBeLessThan(0.05);
    },
  );

  it("gives wild shapes with the quartiles of Student's t on 3 degrees of freedom, 0.7649 / sqrt 3", () => {
    const luck = chance(8);
    const values = Array.from({ length: 40_000 }, () => luck.shape('wild')).toSorted(
      (a, b) => a - b,
    );
    expect(values[30_000]).toBeCloseTo(0.7649 / Math.sqrt(3), 1);
    expect(values[10_000]).toBeCloseTo(-0.7649 / Math.sqrt(3), 1);
  });

  it('counts with the mean and variance of a Poisson law', () => {
    const luck = chance(9);
    const { mean, variance } = moments(Array.from({ length: 20_000 }, () => luck.poisson(6.5)));
    expect(Math.abs(mean - 6.5)).toBeLessThan(0.1);
    expect(Math.abs(variance - 6.5)).toBeLessThan(0.3);
  });
});

describe('a made-up garden', () => {
  it('is the same from the same seed', () => {
    expect(grow(plain, 4).truth).toEqual(grow(plain, 4).truth);
    expect(grow(plain, 4).truth).not.toEqual(grow(plain, 5).truth);
  });

  it.each(GARDEN_KINDS.map((kind) => [kind.name, kind] as const))(
    'writes a sound ledger: %s',
    (_, kind) => {
      const { ledger, truth } = grow(kind, 11);
      expect(ledger.seasons.length).toBe(kind.seasons);
      expect(truth.every(({ index }) => index > 1 && index < 10)).toBe(true);
    },
  );

  it('has equal truths where nothing but luck separates the cultivars', () => {
    const indexes = grow(equal, 3).truth.map(({ index }) => index);
    expect(Math.max(...indexes) - Math.min(...indexes)).toBeLessThan(0.35);
  });

  it('has for truth what its entries come to when there is no end of them', () => {
    const { truth, seasons } = grow({ ...equal, cultivars: 6, seasons: 60 }, 6);
    const counts = seasons.flatMap((one) => one.counts as { fruit: number; branches: number }[]);
    const fruit = counts.reduce((sum, one) => sum + one.fruit, 0);
    const branches = counts.reduce((sum, one) => sum + one.branches, 0);
    const { productivity, flavour } = truth[0]?.figures ?? { productivity: 0, flavour: 0 };
    expect(Math.abs(fruit / branches / productivity - 1)).toBeLessThan(0.05);
    const marks = seasons.flatMap(({ tastings }) =>
      (tastings as { scores: Record<string, Record<string, { flavour: number }>> }[]).flatMap(
        ({ scores }) => Object.values(scores).flatMap((sheet) => Object.values(sheet)),
      ),
    );
    const mean = marks.reduce((sum, one) => sum + one.flavour, 0) / marks.length;
    expect(Math.abs(mean - flavour)).toBeLessThan(0.15);
  });
});
