import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import * as z from 'zod';
import { plainFit } from './plain-fit.ts';
import { cultivarsSchema, treesSchema } from './schema/collection-schema.ts';
import { seasonSchema } from './schema/season-schema.ts';
import { trialSchema } from './schema/trial-schema.ts';

const season = {
  season: 2026,
  counts: [{ on: '2026-08-01', tree: 'G1', crop: 'main', fruit: 12, branches: 4 }],
  picks: [
    { on: '2026-09-01', tree: 7, crop: 'main', weights: [41.5, '1.5 oz'], split: 1, note: null },
    { on: '2026-09-02', tree: 'G1', crop: 'early', fruit: 3, sample: 'best' },
  ],
  tastings: [
    {
      on: '2026-09-02',
      samples: [{ tree: 'G1', crop: 'main', ripeness: 'ripe', brix: 18.5 }],
      scores: { mara: { G1: { flavour: 8, sweetness: 7.5 } } },
      order: { mara: [['G1', 7], 'G2'] },
    },
  ],
  events: [
    { on: '2026-10-02', kind: 'frost', low: -1.5 },
    { on: '2026-05-02', kind: 'spray', site: 'wall', product: 'soap', wait_days: 7 },
  ],
  growth: [{ on: '2026-03-01', tree: 'G1', girth: '20 cm' }],
};

const collections = {
  amber: { name: 'Amber Lantern', bears: 'common', also: ['Lantern'], protected: true },
};

describe('plainFit', () => {
  it('takes what the ledger is made of', () => {
    expect(plainFit(seasonSchema)(season)).toBe(true);
    expect(plainFit(cultivarsSchema)(collections)).toBe(true);
    expect(plainFit(treesSchema)({ G1: { cultivar: 'amber', site: 'wall', planted: 2019 } })).toBe(
      true,
    );
    const trial = {
      title: 'Trial',
      fruit: 'fig',
      traits: ['flavour'],
      sites: { wall: { name: 'South wall', cover: 'open' } },
    };
    expect(plainFit(trialSchema)(trial)).toBe(true);
  });

  const odd = fc.oneof(
    fc.constantFrom<unknown>(undefined, null, '', 'G1', '2026-02-29', '2026-09-01', 'best', true),
    fc.constantFrom<unknown>(0, -1, 1.5, 1e9, 1e10, Number.NaN, Number.POSITIVE_INFINITY, 2 ** 53),
    fc.constantFrom<unknown>([], {}, [1], ['a'], { a: 1 }, new Map()),
    fc.jsonValue(),
  );

  /** The same value with one part of it replaced, taken away or added to. */
  function changed(value: unknown, steps: readonly number[], by: unknown): unknown {
    const [step, ...more] = steps;
    if (step === undefined || typeof value !== 'object' || value === null) return by;
    if (Array.isArray(value)) {
      const list: unknown[] = [...value];
      const place = step % (list.length + 1);
      list[place] = changed(list[place], more, by);
      return list;
    }
    const keys = Object.keys(value);
    const key = keys[step % (keys.length + 1)] ?? 'colour';
    const copy: Record<string, unknown> = { ...value };
    copy[key] = changed(copy[key], more, by);
    if (copy[key] === undefined && step % 2 === 0) delete copy[key];
    return copy;
  }

  it.each([
    ['season', seasonSchema, season],
    ['cultivars', cultivarsSchema, collections],
  ] as const)(
    'never says yes where the schema says no or makes another value: %s',
    (_n, schema, sound) => {
      let yes = 0;
      let no = 0;
      fc.assert(
        fc.property(fc.array(fc.nat(9), { minLength: 1, maxLength: 5 }), odd, (steps, by) => {
          const value = changed(sound, steps, by);
          const result = (schema as z.ZodType).safeParse(value);
          if (plainFit(schema)(value)) {
            yes++;
            expect(result.success).toBe(true);
            expect(result.data).toEqual(value);
          } else {
            no++;
            // It knows all that these schemas are made of, so it is no stricter either.
            expect(result.success).toBe(false);
          }
        }),
        { seed: 11, numRuns: 4_000 },
      );
      expect(yes).toBeGreaterThan(100);
      expect(no).toBeGreaterThan(100);
    },
  );

  it('leaves to the schema what it does not know of', () => {
    const even = z.number().refine((value) => value % 2 === 0);
    expect(plainFit(even)(2)).toBe(false);
    expect(plainFit(z.object({ a: z.number() }))({ a: 1, b: 2 })).toBe(false);
    expect(plainFit(z.string().transform(Number))('2')).toBe(false);
    expect(plainFit(z.string().default('a'))('b')).toBe(false);
  });
});
