// Index of alternate bearing, worked by hand from the formula of Hoblyn, Grubb, Painter & Wates
// 1936, Journal of Pomology and Horticultural Science 14:39-76. The yields are constructed.
import { describe, expect, test } from 'vitest';
import { alternationIndex } from '../../src/stats/describe/alternation-index.ts';
import { absoluteError, numberAt, numbersAt } from './fields.ts';
import { type ReferenceCase, readReference } from './read-reference.ts';

/** Yields with a place for every year from the first to the last. */
function byYear({ data }: ReferenceCase): (number | undefined)[] {
  const yields = numbersAt(data, 'annual_yield');
  if (!('season' in data)) return yields;
  const seasons = numbersAt(data, 'season');
  const first = Math.min(...seasons);
  return Array.from({ length: Math.max(...seasons) - first + 1 }, (_, year) => {
    const place = seasons.indexOf(first + year);
    return place < 0 ? undefined : yields[place];
  });
}

describe('alternate bearing index', () => {
  test.each(readReference('o_biennial_bearing').cases)('$id', (one) => {
    const found = alternationIndex(byYear(one));
    if (one.expected['index'] === null) {
      expect(found).toBeUndefined();
      return;
    }
    const terms = one.expected['terms'];
    const used = Array.isArray(terms) ? terms.filter((term) => term !== null).length : -1;
    expect(found?.terms).toBe(used);
    const error = absoluteError(found?.index, numberAt(one.expected, 'index'));
    expect(error).toBeLessThanOrEqual(numberAt(one.tolerance, 'abs'));
  });

  // Worked from the same formula; the same years score 1.2034 on the scale of 0 to 2.
  test('12, 3, 10, 2 scores 0.6017', () => {
    expect(alternationIndex([12, 3, 10, 2])?.index).toBeCloseTo(0.6017, 4);
  });
});
