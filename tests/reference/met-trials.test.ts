import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { lengthForMeans } from '../../src/judge/index/chain-length.ts';
import { drawIndex } from '../../src/judge/index/draw-index.ts';
import { gatherTrial } from '../../src/judge/index/gather-trial.ts';
import { meanOfDraws } from '../../src/stats/mixed/mean-of-draws.ts';
import { poolDraws } from '../../src/stats/pool/pool-draws.ts';
import { seededRandom } from '../../src/stats/random/seeded-random.ts';
import { kendallTauB } from '../support/kendall-tau-b.ts';
import { ledgerFrom } from '../support/ledger-from.ts';

type Cells = Readonly<Record<string, Readonly<Record<string, number>>>>;

// Adugna 2008, Hereditas 145:28-37; Kang and Gorman 1989, Agronomy Journal 81:662-664; Talbot and Wheelwright 1989,
// Biuletyn Oceny Odmian 21/22:19-25; Besag and Higdon 1999, J. R. Stat. Soc. B 61:691-746. By way of the open R data
// package agridat (MIT).
const { cases } = JSON.parse(
  readFileSync(new URL('q_met_trials.json', import.meta.url), 'utf8'),
) as { cases: readonly { readonly id: string; readonly environments: Cells }[] };

/** Halves drawn for each environment left out: many of small trials, where one says little. */
const halvesFor = (items: number) => (items < 20 ? 12 : 3);
/** Of the variance within environments; the publications give means without their errors. */
const ERROR = 0.3;

describe('with half the cells out, nearer to an environment that was left out than ranks or plain means', () => {
  it.each(cases.map((one) => [one.id, one.environments] as const))(
    'gardens of a pool: %s',
    (_, cells) => {
      const taus = agreement(cells, pooled, halvesFor);
      expect(taus.model).toBeGreaterThanOrEqual(taus.ranks);
      expect(taus.model).toBeGreaterThan(taus.plain);
    },
    60_000,
  );

  // Over all trials: one half of each environment says little.
  it('seasons of a ledger', () => {
    const taus = cases.map(({ environments }) => agreement(environments, ranked, () => 1));
    expect(mean(taus.map(({ model }) => model))).toBeGreaterThan(
      mean(taus.map(({ ranks }) => ranks)),
    );
    for (const { model, plain } of taus) expect(model).toBeGreaterThan(plain);
  }, 120_000);
});

/** How near to the environments left out a way of judging comes on average, and how near ranks and plain means do. */
function agreement(
  cells: Cells,
  judge: (seen: Seen) => (item: string) => number,
  halves: (items: number) => number,
) {
  const random = seededRandom(11);
  const items = new Set(Object.values(cells).flatMap((own) => Object.keys(own)));
  const taus = { model: [] as number[], ranks: [] as number[], plain: [] as number[] };
  for (const left of Object.keys(cells)) {
    for (let half = 0; half < halves(items.size); half++) {
      const seen = Object.keys(cells)
        .filter((name) => name !== left)
        .map((name) => Object.entries(cells[name] ?? {}).filter(() => random.uniform() < 0.5))
        .filter((own) => own.length > 2);
      const known = new Set(seen.flat().map(([item]) => item));
      const judged = Object.keys(cells[left] ?? {}).filter((item) => known.has(item));
      const tau = (worth: (item: string) => number) =>
        kendallTauB(
          judged.map((item) => cells[left]?.[item] ?? 0),
          judged.map(worth),
        )?.coefficient ?? 0;
      taus.model.push(tau(judge(seen)));
      taus.ranks.push(tau(over(seen, rankWithin)));
      taus.plain.push(tau(over(seen, (_own, value) => value)));
    }
  }
  return { model: mean(taus.model), ranks: mean(taus.ranks), plain: mean(taus.plain) };
}

type Seen = readonly (readonly (readonly [item: string, value: number])[])[];

/** Each environment a garden of a pool. */
function pooled(seen: Seen): (item: string) => number {
  const items = [...new Set(seen.flat().map(([item]) => item))].toSorted();
  const within = mean(
    seen.map((own) => {
      const middle = mean(own.map(([, value]) => value));
      return (own.length / (own.length - 1)) * mean(own.map(([, value]) => (value - middle) ** 2));
    }),
  );
  const { middle } = poolDraws(
    {
      items: items.length,
      scale: Math.sqrt(within),
      environments: seen.map((own) => ({
        items: own.map(([item]) => items.indexOf(item)),
        mean: Float64Array.from(own, ([, value]) => value),
        covariance: Float64Array.from({ length: own.length ** 2 }, (_, at) =>
          at % (own.length + 1) === 0 ? ERROR * within : 0,
        ),
      })),
    },
    { seed: 1, warmUp: 150, rounds: 300 },
  );
  const worth = middle.map(meanOfDraws);
  return (item) => worth[items.indexOf(item)] ?? Number.NaN;
}

/** From the files on: each environment a season, in which one tree of each item bore fruit of so many grams. */
function ranked(seen: Seen): (item: string) => number {
  const items = [...new Set(seen.flat().map(([item]) => item))].toSorted();
  const most = Math.max(...seen.flat().map(([, value]) => value));
  const files: Record<string, object> = {
    'ledger.yaml': {
      title: 'Published trial',
      fruit: 'quince',
      scale: { low: 1, high: 10 },
      traits: ['flavour'],
      sites: { plot: { name: 'plot', cover: 'open' } },
      rank: {
        weights: { size: 1 },
        bands: {
          size: [
            [0, 1],
            [200, 10],
          ],
        },
      },
    },
    'cultivars.yaml': Object.fromEntries(
      items.map((name, at) => [`c${at}`, { name, bears: 'main' }]),
    ),
    'trees.yaml': Object.fromEntries(
      items.map((_, at) => [`T${at}`, { cultivar: `c${at}`, site: 'plot' }]),
    ),
  };
  seen.forEach((own, environment) => {
    const season = 2000 + environment;
    files[`seasons/${season}.yaml`] = {
      season,
      picks: own.map(([item, value]) => ({
        on: `${season}-09-01`,
        tree: `T${items.indexOf(item)}`,
        crop: 'main',
        fruit: 200,
        // Many fruit, so that the mean is hardly in doubt.
        weight: Number(((200 * 100 * Math.max(0.005 * most, value)) / most).toFixed(1)),
      })),
    };
  });
  const ledger = ledgerFrom(
    Object.fromEntries(Object.entries(files).map(([path, file]) => [path, JSON.stringify(file)])),
  );
  const trial = gatherTrial(ledger, {}, 'main');
  const drawn = drawIndex(trial, { seed: 1, length: lengthForMeans });
  const worths = new Map(
    trial.cultivars.map(({ name }, at) => {
      const index = drawn?.views[0]?.index[at];
      return [name, index && meanOfDraws(index)];
    }),
  );
  return (item) => worths.get(item) ?? Number.NaN;
}

/** The mean over the environments where an item was seen. */
function over(
  seen: Seen,
  of: (own: Seen[number], value: number) => number,
): (item: string) => number {
  return (item) =>
    mean(
      seen.flatMap((own) => {
        const value = own.find(([one]) => one === item)?.[1];
        return value === undefined ? [] : [of(own, value)];
      }),
    );
}

/** Rank from the least, as a share of those ranked, so that environments of any size count alike. */
function rankWithin(own: Seen[number], value: number): number {
  const below = own.filter(([, other]) => other < value).length;
  const same = own.filter(([, other]) => other === value).length;
  return (below + (same + 1) / 2) / (own.length + 1);
}

function mean(values: readonly number[]): number {
  return values.reduce((sum, value) => sum + value, 0) / values.length;
}
