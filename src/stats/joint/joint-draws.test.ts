import { describe, expect, it } from 'vitest';
import { type SeededRandom, seededRandom } from '../random/seeded-random.ts';
import { type JointOptions, jointDraws } from './joint-draws.ts';
import type { JointSampler } from './joint-sampler.ts';
import { ITEM, type JointPart, type JointTrial } from './joint-trial.ts';

const OPTIONS: JointOptions = { seed: 3, warmUp: 200, rounds: 400, pairs: 2 };

interface Design {
  readonly items: number;
  readonly seasons: number;
  readonly trees: number;
  readonly judges: number;
  /** Spread between items, and of everything else. */
  readonly item: number;
  readonly rest: number;
  /** Correlation of the two parts in all of it. */
  readonly together?: number;
}

/** Two judged parts: every item in every season on every tree, a plate each. */
function balanced(design: Design, seed: number): JointTrial & { readonly truth: number[][] } {
  const random = seededRandom(seed);
  const together = design.together ?? 0;
  const pair = (spread: number) => {
    const common = random.normal();
    return [0, 1].map(
      () => spread * (Math.sqrt(together) * common + Math.sqrt(1 - together) * random.normal()),
    );
  };
  const truth = Array.from({ length: design.items }, () => pair(design.item));
  const rows: {
    item: number;
    season: number;
    tree: number;
    plate: number;
    judge: number;
    y: number[];
  }[] = [];
  const trees = truth.map(() => Array.from({ length: design.trees }, () => pair(design.rest)));
  truth.forEach((worth, item) => {
    for (let season = 0; season < design.seasons; season++) {
      const swing = pair(design.rest);
      for (let k = 0; k < design.trees; k++) {
        const plate = pair(design.rest);
        for (let judge = 0; judge < design.judges; judge++) {
          const noise = pair(design.rest);
          const y = worth.map(
            (own, part) =>
              6 +
              own +
              (swing[part] as number) +
              (trees[item]?.[k]?.[part] as number) +
              (plate[part] as number) +
              (noise[part] as number),
          );
          const tree = item * design.trees + k;
          const at = (item * design.seasons + season) * design.trees + k;
          rows.push({ item, season, tree, plate: at, judge, y });
        }
      }
    }
  });
  const part = (k: number): JointPart => ({
    y: rows.map(({ y }) => y[k] as number),
    item: rows.map(({ item }) => item),
    season: rows.map(({ season }) => season),
    tree: rows.map(({ tree }) => tree),
    site: rows.map(() => 0),
    plate: rows.map(({ plate }) => plate),
    block: rows.map(({ season }) => season),
    judge: rows.map(({ judge }) => judge),
    scale: 1.5,
  });
  return { items: design.items, sites: 1, truth, parts: [part(0), part(1)] };
}

/** Mean and spread of what each item is worth in a part, its level with it, and means of what is told of the chain. */
function summary(
  trial: JointTrial,
  options: JointOptions,
  told: (chain: JointSampler) => number[] = () => [],
) {
  const count = trial.parts.length;
  const draws = Array.from({ length: trial.items * count }, () => [] as number[]);
  const tellings: number[][] = [];
  jointDraws(trial, options, ({ sampler, standing }) => {
    const levels = sampler.parts.map(
      ({ cells, levels: { column, block } }) =>
        cells.middle + (column[0] as number) + block.reduce((a, b) => a + b, 0) / block.length,
    );
    draws.forEach((own, at) => {
      own.push((standing[at] as number) + (levels[at % count] as number));
    });
    tellings.push(told(sampler));
  });
  return {
    mean: draws.map(meanOf),
    sd: draws.map((own) => Math.sqrt(meanOf(own.map((value) => (value - meanOf(own)) ** 2)))),
    told: (tellings[0] ?? []).map((_, at) => meanOf(tellings.map((one) => one[at] as number))),
  };
}

function meanOf(values: readonly number[]): number {
  return values.reduce((sum, value) => sum + value, 0) / values.length;
}

const small = balanced({ items: 8, seasons: 3, trees: 2, judges: 2, item: 1.2, rest: 0.5 }, 3);

const onTo = (trial: JointTrial, change: (part: JointPart) => JointPart): JointTrial => ({
  ...trial,
  parts: trial.parts.map(change),
});

describe('jointDraws', () => {
  it('draws the same for the same seed, and differently for another', () => {
    const options = { ...OPTIONS, warmUp: 5, rounds: 20 };
    const first = summary(small, options);
    expect(summary(small, options)).toEqual(first);
    expect(summary(small, { ...options, seed: 4 })).not.toEqual(first);
  });

  it('does not depend on how rows stand and groups are numbered, but for simulation error', () => {
    const count = small.parts[0]?.y.length ?? 0;
    const order = seededRandom(5).shuffle(Array.from({ length: count }, (_, at) => at));
    const pick = (values: readonly number[] = []) => order.map((at) => values[at] ?? 0);
    const turned = onTo(small, (part) => ({
      ...part,
      y: pick(part.y),
      item: pick(part.item).map((item) => 7 - item),
      season: pick(part.season).map((season) => 2030 - season),
      tree: pick(part.tree).map((tree) => 100 - tree),
      site: pick(part.site),
      plate: pick(part.plate).map((plate) => 1000 - plate),
      block: pick(part.block).map((block) => 2 - block),
      judge: pick(part.judge).map((judge) => 1 - judge),
    }));
    const options = { ...OPTIONS, rounds: 1500 };
    const [straight, other] = [summary(small, options), summary(turned, options)];
    for (let item = 0; item < 8; item++) {
      const [at, there] = [2 * item, 2 * (7 - item)];
      const sd = straight.sd[at] as number;
      expect(Math.abs((straight.mean[at] as number) - (other.mean[there] as number))).toBeLessThan(
        0.2 * sd,
      );
      expect(Math.abs(sd / (other.sd[there] as number) - 1)).toBeLessThan(0.12);
    }
  });

  it('moves and stretches with the values', () => {
    const options = { ...OPTIONS, warmUp: 20, rounds: 50 };
    const plain = summary(small, options);
    const moved = summary(
      onTo(small, (part) => ({
        ...part,
        y: part.y.map((value) => 100 + 4 * value),
        scale: 4 * part.scale,
      })),
      options,
    );
    plain.mean.forEach((mean, at) => {
      expect(moved.mean[at]).toBeCloseTo(100 + 4 * mean, 5);
      expect(moved.sd[at]).toBeCloseTo(4 * (plain.sd[at] as number), 5);
    });
  });

  it('agrees with best linear unbiased prediction where a balanced trial settles the spreads', () => {
    const design = { items: 40, seasons: 6, trees: 3, judges: 3, item: 1.2, rest: 0.6 };
    const trial = balanced(design, 1);
    const { mean } = summary(trial, OPTIONS);
    // In a balanced layout prediction shrinks each mean towards the grand mean by the reliability of a mean, here at
    // the true spreads: Robinson 1991, Statistical Science 6:15-32.
    const cell = 0.36 * (1 / 6 + 1 / 3 + 1 / 18 + 1 / 54);
    const { y, item } = trial.parts[0] as JointPart;
    const own = trial.truth.map((_, at) => meanOf(y.filter((_value, row) => item[row] === at)));
    own.forEach((value, at) => {
      const blup = meanOf(own) + ((value - meanOf(own)) * 1.44) / (1.44 + cell);
      // A tenth of the spread between items: the spreads are drawn, not known.
      expect(Math.abs((mean[2 * at] as number) - blup)).toBeLessThan(0.12);
    });
  });

  it('finds out whether parts go together, and lends one what the other says', () => {
    const design = { items: 30, seasons: 3, trees: 2, judges: 2, item: 1.2, rest: 0.5 };
    const correlation = (chain: JointSampler) => [Math.tanh(chain.together.z[ITEM]?.[0] as number)];
    const [apart, joined] = [0, 0.9].map((together) => balanced({ ...design, together }, 6));
    expect(summary(apart as JointTrial, OPTIONS, correlation).told[0]).toBeLessThan(0.45);
    expect(summary(joined as JointTrial, OPTIONS, correlation).told[0]).toBeGreaterThan(0.7);
    // The second part of the first item was hardly seen: one plate of the first season.
    const thin = (trial: JointTrial): JointTrial => {
      const [first, second] = trial.parts as [JointPart, JointPart];
      const kept = second.item.map((item, row) => item !== 0 || row === 0);
      const pick = (values: readonly number[] = []) => values.filter((_, at) => kept[at]);
      const { y, item, season, tree, site, plate, block, judge } = second;
      const less = {
        y: pick(y),
        item: pick(item),
        season: pick(season),
        tree: pick(tree),
        site: pick(site),
        plate: pick(plate),
        block: pick(block),
        judge: pick(judge),
        scale: 1.5,
      };
      return { ...trial, parts: [first, less] };
    };
    const alone = summary(thin(apart as JointTrial), OPTIONS).sd[1] as number;
    expect(summary(thin(joined as JointTrial), OPTIONS).sd[1]).toBeLessThan(0.8 * alone);
  });

  it('takes out sittings and harsh judges', () => {
    const harsh = onTo(small, (part) => ({
      ...part,
      // The second judge gives two points less and saw only the last four items; the last season was poor.
      y: part.y.map(
        (value, at) => value - 2 * (part.judge?.[at] ?? 0) - (part.season[at] === 2 ? 1.5 : 0),
      ),
    }));
    const kept = onTo(harsh, (part) => {
      const seen = part.y.map((_, at) => part.judge?.[at] === 0 || (part.item[at] as number) > 3);
      const pick = (values: readonly number[] = []) => values.filter((_, at) => seen[at]);
      return {
        ...part,
        y: pick(part.y),
        item: pick(part.item),
        season: pick(part.season),
        tree: pick(part.tree),
        site: pick(part.site),
        plate: pick(part.plate),
        block: pick(part.block),
        judge: pick(part.judge),
      };
    });
    const [plain, evened] = [summary(small, OPTIONS), summary(kept, OPTIONS)];
    const centred = ({ mean }: { mean: number[] }) => {
      const own = mean.filter((_, at) => at % 2 === 0);
      return own.map((value) => value - meanOf(own));
    };
    centred(plain).forEach((value, item) => {
      expect(Math.abs(value - (centred(evened)[item] as number))).toBeLessThan(0.4);
    });
  });

  it('does not let the spread between items stick at nothing in a trial of one season and one tree each', () => {
    // So little tells a spread there that a chain which moves one spread at a time with the effects held stays at 0.
    for (const seed of [1, 2, 3, 4]) {
      const trial = balanced(
        { items: 8, seasons: 1, trees: 1, judges: 2, item: 1, rest: 0.5 },
        seed,
      );
      const spreads: number[] = [];
      jointDraws(trial, { ...OPTIONS, seed, warmUp: 300, rounds: 1500 }, ({ sampler }) => {
        spreads.push(sampler.spread(0, ITEM));
      });
      const near = spreads.filter((spread) => spread < 0.05).length / spreads.length;
      expect(near).toBeLessThan(0.03);
      expect(meanOf(spreads)).toBeGreaterThan(0.4);
      // And it does not stick anywhere else: each quarter of the chain is much like the others.
      const quarters = [0, 1, 2, 3].map((at) => meanOf(spreads.slice(1500 * at, 1500 * (at + 1))));
      expect(Math.max(...quarters) / Math.min(...quarters)).toBeLessThan(1.6);
    }
  });

  it('tells what a young tree would bear once it is grown', () => {
    const { trial, grown } = young(seededRandom(4));
    const { mean, told } = summary(trial, { ...OPTIONS, rounds: 1000 }, ({ pace }) => [pace]);
    const plain = grown.map((_, item) => {
      const { y, item: of } = trial.parts[0] as JointPart;
      return meanOf(y.filter((_value, at) => of[at] === item));
    });
    const offOf = (values: readonly number[]) =>
      meanOf(values.slice(0, 10).map((value, item) => value - (grown[item] as number)));
    // The first ten items have young trees only.
    expect(offOf(plain)).toBeLessThan(-0.3);
    expect(Math.abs(offOf(mean))).toBeLessThan(0.12);
    expect(told[0]).toBeGreaterThan(1.2);
    expect(told[0]).toBeLessThan(3.5);
  });

  it('refuses what does not fit together', () => {
    const draw = (change: Partial<JointPart>) =>
      jointDraws(
        onTo(small, (part) => ({ ...part, ...change })),
        OPTIONS,
        () => {},
      );
    expect(() => draw({ item: [0] })).toThrow(RangeError);
    expect(() => draw({ scale: 0 })).toThrow(RangeError);
    expect(() => draw({ y: small.parts[0]?.y.map(() => Number.NaN) ?? [] })).toThrow(RangeError);
    expect(() => jointDraws({ ...small, parts: [] }, OPTIONS, () => {})).toThrow(RangeError);
  });
});

/** Counts on the root scale of twenty items, the first ten on trees of one to three years: pace 2. */
function young(random: SeededRandom) {
  const grown = Array.from({ length: 20 }, () => 1.6 + 0.3 * random.normal());
  const rows = grown.flatMap((worth, item) =>
    [0, 1, 2].flatMap((season) =>
      [0, 1].map((k) => {
        const age = item < 10 ? 1 + season : Number.POSITIVE_INFINITY;
        const part = 1 - Math.exp(-age / 2);
        const y = Math.sqrt(part) * (worth + 0.1 * random.normal()) + 0.1 * random.normal();
        return { item, season, tree: 2 * item + k, age, y };
      }),
    ),
  );
  const part: JointPart = {
    y: rows.map(({ y }) => y),
    item: rows.map(({ item }) => item),
    season: rows.map(({ season }) => season),
    tree: rows.map(({ tree }) => tree),
    site: rows.map(() => 0),
    plate: rows.map((_, at) => at),
    block: rows.map(({ season }) => season),
    variance: rows.map(() => 0.01),
    age: rows.map(({ age }) => age),
    aging: 'divides',
    scale: 0.5,
  };
  return { trial: { items: 20, sites: 1, parts: [part] }, grown };
}
