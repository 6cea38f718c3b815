import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { environmentEffects, finlayWilkinson } from './finlay-wilkinson.ts';
import { shuklaVariance, wrickeEcovalence } from './shukla-variance.ts';

const value = fc.double({ min: -50, max: 50, noNaN: true });
const complete = fc
  .tuple(fc.integer({ min: 3, max: 6 }), fc.integer({ min: 3, max: 6 }))
  .chain(([g, e]) =>
    fc.array(fc.array(value, { minLength: e, maxLength: e }), { minLength: g, maxLength: g }),
  );

describe('finlayWilkinson', () => {
  it('has slopes that average 1 over a complete table', () => {
    fc.assert(
      fc.property(complete, (values) => {
        const { effects, lines } = finlayWilkinson(values);
        const spread = Math.max(...effects.map((effect) => Math.abs(effect ?? 0)));
        fc.pre(spread > 1e-3);
        const mean =
          lines.reduce((sum, line) => sum + (line?.slope ?? Number.NaN), 0) / lines.length;
        expect(mean).toBeCloseTo(1, 6);
      }),
    );
  });

  it('does not change when cells that lie on additive lines go missing', () => {
    // value = level + effect: every slope is 1 whichever cells are there.
    const levels = [1, 4, 2, 8];
    const effects = [-3, -1, 0, 4];
    const holes = new Set(['0,3', '1,0', '2,2']);
    const values = levels.map((level, i) =>
      effects.map((effect, j) => (holes.has(`${i},${j}`) ? undefined : level + effect)),
    );
    const result = finlayWilkinson(values);
    effects.forEach((effect, j) => {
      expect(result.effects[j]).toBeCloseTo(effect, 10);
    });
    levels.forEach((level, i) => {
      expect(result.lines[i]?.slope).toBeCloseTo(1, 10);
      expect(result.lines[i]?.atMean).toBeCloseTo(level, 10);
      expect(result.lines[i]?.deviationSs).toBeCloseTo(0, 10);
    });
  });

  it('keeps environments apart that no treatment joins, and says so', () => {
    const no = undefined;
    const result = finlayWilkinson([
      [1, 3, no, no, no],
      [2, 4, no, no, no],
      [no, no, 5, 9, no],
      [no, no, 1, no, no],
    ]);
    expect(result.groups).toEqual([
      [0, 1],
      [2, 3],
    ]);
    expect(result.effects[4]).toBeUndefined();
    expect(result.effects[2]).toBeCloseTo(-2, 12);
    expect(result.lines[2]?.slope).toBeCloseTo(1, 12);
    expect(result.lines[2]?.standardError).toBeUndefined();
    expect(result.lines[3]).toBeUndefined();
  });

  it('has no line where environments do not differ or there are no values', () => {
    expect(
      finlayWilkinson([
        [2, 2, 2],
        [5, 5, 5],
      ]).lines,
    ).toEqual([undefined, undefined]);
    expect(finlayWilkinson([]).lines).toEqual([]);
    expect(finlayWilkinson([[], []]).lines).toEqual([undefined, undefined]);
    expect(environmentEffects([[undefined]]).groups).toEqual([]);
    expect(() => finlayWilkinson([[1, 2], [1]])).toThrow(RangeError);
    expect(() => finlayWilkinson([[1, Number.NaN]])).toThrow(RangeError);
  });
});

describe('ecovalence, Shukla’s variance and the lines', () => {
  it('fit together: slope and deviation make W, W the interaction, that the mean', () => {
    fc.assert(
      fc.property(complete, (values) => {
        const { effects, lines } = finlayWilkinson(values);
        const { ecovalences, interactionSs } = wrickeEcovalence(values);
        const index = effects.reduce<number>((sum, effect) => sum + (effect ?? 0) ** 2, 0);
        fc.pre(index > 1e-3);
        ecovalences.forEach((w, i) => {
          const line = lines[i];
          const parts = ((line?.slope ?? 0) - 1) ** 2 * index + (line?.deviationSs ?? 0);
          expect(Math.abs(parts - w)).toBeLessThan(1e-9 * (1 + index + interactionSs));
        });
        const shukla = shuklaVariance(values);
        const mean = (shukla?.variances ?? []).reduce((sum, v) => sum + v, 0) / values.length;
        expect(mean).toBeCloseTo(shukla?.interactionMs ?? Number.NaN, 6);
        expect(interactionSs).toBeCloseTo((shukla?.interactionMs ?? 0) * (shukla?.df ?? 0), 6);
      }),
    );
  });

  it('need three treatments and say nothing of an interaction that is not there', () => {
    expect(
      shuklaVariance([
        [1, 2],
        [3, 4],
      ]),
    ).toBeUndefined();
    expect(shuklaVariance([[1], [3], [4]])).toBeUndefined();
    expect(
      wrickeEcovalence([
        [1, 2],
        [3, 4],
      ]),
    ).toEqual({
      ecovalences: [0, 0],
      shares: undefined,
      interactionSs: 0,
    });
    expect(() => wrickeEcovalence([[1, 2], [3]])).toThrow(RangeError);
  });
});
