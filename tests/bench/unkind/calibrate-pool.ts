import { poolCrops } from '../../../src/judge/pool/pool-crops.ts';
import { sameCultivars } from '../../../src/judge/pool/same-cultivars.ts';
import { kendallTauB } from '../../support/kendall-tau-b.ts';
import { CONFIDENCE } from './garden-tally.ts';
import { type NeighbourKind, neighbours } from './neighbours.ts';

/**
 * How often the intervals of `pool` hold the truth, by a generator that shares nothing with its model.
 *
 * Usage: node .build/script.mjs tests/bench/unkind/calibrate-pool.ts [trials] [first seed] [regular expression of rows].
 * The seeds of the printed table are not those that the method was developed on (below 400000, and from 3000000).
 */
const [trials = '20', firstSeed = '4000000', only = ''] = process.argv.slice(2);

const PLAIN = { liking: 0.6, widths: 0.25, sizes: [6, 15] } as const;

const KINDS: readonly NeighbourKind[] = [
  { ...PLAIN, name: '2 gardens', gardens: 2, choice: 18 },
  { ...PLAIN, name: '4 gardens', gardens: 4, choice: 22 },
  { ...PLAIN, name: '8 gardens', gardens: 8, choice: 30 },
  { ...PLAIN, name: '20 gardens', gardens: 20, choice: 40 },
  { ...PLAIN, name: '4 gardens, alike', gardens: 4, choice: 22, liking: 0.15 },
  { ...PLAIN, name: '4 gardens, very unlike', gardens: 4, choice: 22, liking: 1.2 },
  { ...PLAIN, name: '4 gardens, years shared', gardens: 4, choice: 22, sharedYears: 0.5 },
];

interface Tally {
  readonly middle: number[];
  readonly relative: number[];
  readonly elsewhere: number[];
  readonly home: number[];
  readonly width: number[];
  readonly newWidth: number[];
  readonly tau: number[];
  readonly tauPlain: number[];
  readonly squares: number[];
}

function tallyOf(kind: NeighbourKind): Tally {
  const tally: Tally = {
    middle: [],
    relative: [],
    elsewhere: [],
    home: [],
    width: [],
    newWidth: [],
    tau: [],
    tauPlain: [],
    squares: [],
  };
  for (let trial = 0; trial < Number(trials); trial++) {
    const { found, truth: trueOf } = neighbours(kind, Number(firstSeed) + trial);
    const truth = trueOf();
    const gardens = found.map(({ ledger }, at) => ({ name: `${at}`, ledger, selection: {} }));
    const options = { confidence: CONFIDENCE / 100, top: 3, seed: 1 };
    const [pool] = poolCrops(gardens, sameCultivars(gardens), options);
    const rows = (pool?.ranked ?? []).map((row) => ({
      ...row,
      of: Number(row.cultivar.name.split(' ').at(-1)),
    }));
    if (rows.length < 3) continue;
    const trueIndex = rows.map(({ of }) => truth.middle[of] as number);
    const shift = mean(rows.map(({ index }, k) => index - (trueIndex[k] as number)));
    tally.middle.push(share(rows, ({ low, high }, k) => within(trueIndex[k], low, high)));
    tally.relative.push(
      share(rows, ({ low, high }, k) => within((trueIndex[k] as number) + shift, low, high)),
    );
    tally.elsewhere.push(
      mean(
        rows.map(({ of, newLow, newHigh }) =>
          share(truth.elsewhere[of] ?? [], (one) => within(one, newLow, newHigh)),
        ),
      ),
    );
    const here = rows.flatMap(({ of, here: own }) =>
      own ? [{ ...own, true: truth.home[of] }] : [],
    );
    tally.home.push(share(here, (own) => within(own.true, own.low, own.high)));
    tally.width.push(mean(rows.map(({ low, high }) => high - low)));
    tally.newWidth.push(mean(rows.map(({ newLow, newHigh }) => newHigh - newLow)));
    tally.squares.push(
      mean(rows.map(({ index }, k) => (index - shift - (trueIndex[k] ?? 0)) ** 2)),
    );
    const tau = (values: readonly number[]) => kendallTauB(trueIndex, values)?.coefficient ?? 0;
    tally.tau.push(tau(rows.map(({ index }) => index)));
    tally.tauPlain.push(tau(rows.map(({ at }) => mean(at.map(({ index }) => index)))));
  }
  return tally;
}

console.log(`Nominal ${CONFIDENCE} %, ${trials} trials a row, standard errors behind ±.\n`);
const HEAD =
  'gardens | middle holds truth % | common shift out | a garden not among them % | home % | width | width elsewhere | rmse | tau | tau of garden means';
console.log(`| ${HEAD} |`);
console.log(
  `|${HEAD.split('|')
    .map(() => '---')
    .join('|')}|`,
);
for (const kind of KINDS) {
  if (!new RegExp(only).test(kind.name)) continue;
  const tally = tallyOf(kind);
  const cells = [
    kind.name,
    covered(tally.middle),
    covered(tally.relative),
    covered(tally.elsewhere),
    covered(tally.home),
    mean(tally.width).toFixed(2),
    mean(tally.newWidth).toFixed(2),
    Math.sqrt(mean(tally.squares)).toFixed(2),
    mean(tally.tau).toFixed(3),
    mean(tally.tauPlain).toFixed(3),
  ];
  console.log(`| ${cells.join(' | ')} |`);
}

function covered(shares: readonly number[]): string {
  const middle = mean(shares);
  const squares = shares.reduce((sum, one) => sum + (one - middle) ** 2, 0);
  const error = Math.sqrt(squares / (shares.length - 1) / shares.length);
  return `${(100 * middle).toFixed(1)} ± ${(100 * error).toFixed(1)}`;
}

function mean(values: readonly number[]): number {
  return values.reduce((sum, value) => sum + value, 0) / values.length;
}

function share<Item>(items: readonly Item[], holds: (item: Item, at: number) => boolean): number {
  return items.length === 0 ? 1 : items.filter(holds).length / items.length;
}

function within(value: number | undefined, low: number, high: number): boolean {
  return value !== undefined && low <= value && value <= high;
}
