import { expect, it } from 'vitest';
import type { GardenKind } from './garden-kinds.ts';
import { withAndWithoutOrders } from './ordering-tasters.ts';

const MINUTES = 180_000;
const GARDENS = 6;

// One taster scores, four put the same plates in order: who does not listen to them is further from the truth.
const KIND: GardenKind = {
  name: 'one scores, four order',
  cultivars: 15,
  seasons: 2,
  tasters: 5,
  orderers: 4,
  sites: 1,
  secondTree: 0.4,
};

it('tasters who only put plates in order bring the index nearer to the truth', {
  timeout: MINUTES,
}, () => {
  const gardens = Array.from({ length: GARDENS }, (_, at) => withAndWithoutOrders(KIND, 700 + at));
  const sum = (of: (one: (typeof gardens)[0]) => number) =>
    gardens.reduce((total, one) => total + of(one), 0);
  expect(sum((one) => one.with.square)).toBeLessThan(0.97 * sum((one) => one.without.square));
  expect(sum((one) => one.with.tau)).toBeGreaterThan(sum((one) => one.without.tau));
  expect(sum((one) => one.with.cover) / GARDENS).toBeGreaterThan(0.8);
});
