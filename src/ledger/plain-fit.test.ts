import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import * as z from 'zod';
import { plainFits } from './plain-fit.ts';
import { plainShapes } from './plain-shape.ts';
import { PLAIN_SHAPES } from './plain-shapes.ts';
import { SCHEMAS } from './schema/schemas.ts';

/** Whether a value fits, by shapes that have been through a file. */
function fits(name: keyof typeof SCHEMAS, value: unknown): boolean {
  return FITS[name]?.(value) === true;
}

const FITS = plainFits(JSON.parse(JSON.stringify(PLAIN_SHAPES)));

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

const trial = {
  title: 'Trial',
  fruit: 'fig',
  traits: ['flavour'],
  sites: { wall: { name: 'South wall', cover: 'open' } },
  frost: { 2026: '2026-11-02' },
  rank: {
    weights: { flavour: 3, size: 1 },
    bands: {
      size: [
        [20, 1],
        [80, 10],
      ],
    },
  },
};

describe('plainFits', () => {
  it('takes what the ledger is made of', () => {
    expect(fits('season', season)).toBe(true);
    expect(fits('cultivars', collections)).toBe(true);
    expect(fits('trees', { G1: { cultivar: 'amber', site: 'wall', planted: 2019 } })).toBe(true);
    expect(fits('ledger', trial)).toBe(true);
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
    ['season', season],
    ['cultivars', collections],
    ['ledger', trial],
  ] as const)(
    'never says yes where the schema says no or makes another value: %s',
    (name, sound) => {
      let yes = 0;
      let no = 0;
      fc.assert(
        fc.property(fc.array(fc.nat(9), { minLength: 1, maxLength: 5 }), odd, (steps, by) => {
          const value = changed(sound, steps, by);
          const result = (SCHEMAS[name] as z.ZodType).safeParse(value);
          if (fits(name, value)) {
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
    const leaves = (schema: z.ZodType, value: unknown) => {
      expect(plainFits(plainShapes({ schema }))['schema']?.(value)).toBe(false);
    };
    leaves(
      z.number().refine((value) => value % 2 === 0),
      2,
    );
    leaves(z.object({ a: z.number() }), { a: 1, b: 2 });
    leaves(z.string().transform(Number), '2');
    leaves(z.string().default('a'), 'b');
  });
});
