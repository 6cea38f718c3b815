import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { meanOfDraws } from '../../src/stats/mixed/mean-of-draws.ts';
import { poolDraws } from '../../src/stats/pool/pool-draws.ts';
import { seededRandom } from '../../src/stats/random/seeded-random.ts';
import { kendallTauB } from '../support/kendall-tau-b.ts';

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
    '%s',
    (_, cells) => {
      const random = seededRandom(11);
      const items = new Set(Object.values(cells).flatMap((own) => Object.keys(own)));
      const taus = { pool: [] as number[], ranks: [] as number[], plain: [] as number[] };
      for (const left of Object.keys(cells)) {
        for (let half = 0; half < halvesFor(items.size); half++) {
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
          taus.pool.push(tau(pooled(seen)));
          taus.ranks.push(tau(over(seen, rankWithin)));
          taus.plain.push(tau(over(seen, (_own, value) => value)));
        }
      }
      expect(mean(taus.pool)).toBeGreaterThanOrEqual(mean(taus.ranks));
      expect(mean(taus.pool)).toBeGreaterThan(mean(taus.plain));
    },
    60_000,
  );
});

type Seen = readonly (readonly (readonly [item: string, value: number])[])[];

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
