import { expect, it } from 'vitest';
import { coverRows } from './cover-tally.ts';
import { COVER_KINDS } from './garden-kinds.ts';

const MINUTES = 120_000;

// Nominal 90 %; `calibrate-covers.ts` prints more gardens.
it('rank by cover holds what is true under a cover about as often as it says', {
  timeout: MINUTES,
}, () => {
  const [kind] = COVER_KINDS;
  const rows = kind === undefined ? [] : coverRows(kind, 3, 50_000);
  const cover = (of: readonly (typeof rows)[0][]) =>
    of.filter(({ truth, low, high }) => low <= truth && truth <= high).length / of.length;
  expect(cover(rows)).toBeGreaterThan(0.8);
  const thin = rows.filter(({ tastings }) => tastings <= 3);
  expect(thin.length).toBeGreaterThan(20);
  expect(cover(thin)).toBeGreaterThan(0.75);
});
