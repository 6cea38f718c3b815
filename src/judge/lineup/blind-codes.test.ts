import fc from 'fast-check';
import { expect, test } from 'vitest';
import { seededRandom } from '../../stats/random/seeded-random.ts';
import { blindCodes } from './blind-codes.ts';

test('codes are three digits, all different, none taken, none of one digit alone', () => {
  fc.assert(
    fc.property(
      fc.integer({ min: 1, max: 20 }),
      fc.uniqueArray(fc.integer({ min: 100, max: 999 }).map(String), { maxLength: 300 }),
      fc.nat(),
      (count, taken, seed) => {
        const codes = blindCodes(count, new Set(taken), seededRandom(seed));
        expect(codes).toHaveLength(count);
        expect(new Set(codes).size).toBe(count);
        for (const code of codes) {
          expect(code).toMatch(/^[1-9]\d\d$/);
          expect(code).not.toMatch(/^(\d)\1\1$/);
          expect(taken).not.toContain(code);
        }
      },
    ),
  );
});

test('a slip of one digit never names another sample of a small sitting', () => {
  for (let seed = 0; seed < 200; seed++) {
    const codes = blindCodes(8, new Set(), seededRandom(seed));
    for (const [at, code] of codes.entries()) {
      for (const other of codes.slice(at + 1)) {
        expect([...code].filter((digit, place) => digit !== other[place]).length).toBeGreaterThan(
          1,
        );
      }
    }
  }
});

test('close codes are taken where there are no others, and a lack of codes is refused', () => {
  const all = Array.from({ length: 900 }, (_, at) => String(100 + at));
  const free = new Set(['120', '121', '122']);
  const taken = new Set(all.filter((code) => !free.has(code)));
  expect(blindCodes(2, taken, seededRandom(1))).toHaveLength(2);
  // 122 has two like digits, which is allowed; 999 has three, which is not.
  expect(blindCodes(3, taken, seededRandom(1)).toSorted()).toEqual(['120', '121', '122']);
  expect(() => blindCodes(4, taken, seededRandom(1))).toThrow(RangeError);
});
