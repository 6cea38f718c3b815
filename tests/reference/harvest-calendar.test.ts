// A worked harvest calendar: six picks by day of the year with their kilograms. Days by which 10, 50
// and 90 % of the crop was picked, worked by hand; running shares .0500, .1958, .5292, .8000, .9583, 1.
import { expect, test } from 'vitest';
import { weightedQuantile } from '../../src/stats/describe/quantile.ts';

const days = [227, 230, 234, 238, 243, 250];
const kilograms = [0.12, 0.35, 0.8, 0.65, 0.38, 0.1];

test('days by which a share of the crop was picked', () => {
  const wanted = { 0.05: 227, 0.1: 230, 0.5: 234, 0.8: 238, 0.9: 243, 0.96: 250, 1: 250 };
  for (const [share, day] of Object.entries(wanted)) {
    expect(weightedQuantile(days, kilograms, Number(share)), share).toBe(day);
  }
});
