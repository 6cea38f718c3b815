import { rankCrops } from '../../src/judge/index/rank.ts';
import { poolCrops } from '../../src/judge/pool/pool-crops.ts';
import { sameCultivars } from '../../src/judge/pool/same-cultivars.ts';
import { neighbours } from './unkind/neighbours.ts';

/**
 * What pooling costs against ranking each garden alone: CPU seconds, their ratio, and the most memory.
 *
 * Usage: node .build/script.mjs tests/bench/bench-pool.ts [gardens] [cultivars to choose from]
 */
const [gardens = '20', choice = '60'] = process.argv.slice(2);

const { found } = neighbours(
  {
    name: 'bench',
    gardens: Number(gardens),
    choice: Number(choice),
    liking: 0.6,
    widths: 0.25,
    sizes: [15, 15],
    seasons: 3,
  },
  1,
);
const pooled = found.map(({ ledger }, at) => ({ name: `${at}`, ledger, selection: {} }));
const options = { confidence: 0.95, top: 3, seed: 1 };

// Once for the compiler.
rankCrops(found[0]?.ledger ?? fail(), {}, options);
// Of many gardens some stand for all.
const some = found.slice(0, 20);
const alone =
  (found.length / some.length) *
  spent(() => {
    for (const { ledger } of some) rankCrops(ledger, {}, options);
  });
const together = spent(() => poolCrops(pooled, sameCultivars(pooled), options));
console.log(
  `${gardens} gardens: each alone ${alone.toFixed(1)} s, pooled ${together.toFixed(1)} s, ratio ${(together / alone).toFixed(2)}; ${Math.round(process.resourceUsage().maxRSS / 1024)} MB`,
);

function spent(run: () => void): number {
  const before = process.cpuUsage();
  run();
  const { user, system } = process.cpuUsage(before);
  return (user + system) / 1e6;
}

function fail(): never {
  throw new RangeError('a bench needs a garden');
}
