import { expect, it } from 'vitest';
import { inTenths } from './in-tenths.ts';

it('says a chance in tenths, and never makes a promise of it', () => {
  expect([0, 0.049, 0.06, 0.5, 0.94, 0.95, 1].map(inTenths)).toEqual([
    ...['less than 1 in 10', 'less than 1 in 10', '1 in 10', '5 in 10', '9 in 10'],
    ...['more than 9 in 10', 'more than 9 in 10'],
  ]);
});
