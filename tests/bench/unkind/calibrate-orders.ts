import { GARDEN_KINDS } from './garden-kinds.ts';
import { type Worth, withAndWithoutOrders } from './ordering-tasters.ts';

/**
 * What tasters who only put plates in order add to the index.
 *
 * Usage: calibrate-orders [trials] [first seed]
 */
const [trials = '20', seed = '500000'] = process.argv.slice(2);
const kind = GARDEN_KINDS.find(({ orderers }) => orderers !== undefined);
if (kind === undefined) throw new Error('no garden in which anyone orders');
const found = Array.from({ length: Number(trials) }, (_, at) =>
  withAndWithoutOrders(kind, Number(seed) + at),
);
const mean = (values: readonly number[]) => values.reduce((sum, one) => sum + one) / values.length;
const error = (values: readonly number[]) => {
  const middle = mean(values);
  const squares = values.reduce((sum, one) => sum + (one - middle) ** 2, 0);
  return Math.sqrt(squares / (values.length - 1) / values.length);
};
const row = (name: string, of: (worth: Worth) => number) => {
  const gains = found.map((one) => of(one.with) - of(one.without));
  const [given, left] = [found.map((one) => of(one.with)), found.map((one) => of(one.without))];
  const figures = [mean(left), mean(given), mean(gains), error(gains)].map((one) => one.toFixed(3));
  return `| ${name} | ${figures.join(' | ')} |`;
};
console.log(`${kind.name}, ${trials} gardens.\n`);
console.log('| | without the orders | with them | gain | se |\n|---|---|---|---|---|');
console.log(row('tau', ({ tau }) => tau));
console.log(row('mean square, common shift out', ({ square }) => square));
console.log(row('index holds truth', ({ cover }) => cover));
