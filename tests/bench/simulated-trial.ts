import normalCdf from '@stdlib/stats-base-dists-normal-cdf';
import { type SeededRandom, seededRandom } from '../../src/stats/seeded-random.ts';
import type { TrialScenario } from './trial-scenarios.ts';

/** What one taster gave one plate; a trait is absent if it was not written down. */
export type SimulatedScore = {
  readonly cultivar: number;
  readonly season: number;
  readonly tree: number;
  readonly site: number;
  readonly sitting: number;
  readonly plate: number;
  readonly taster: number;
  readonly flavour: number | undefined;
  readonly sweetness: number | undefined;
};

/** What was counted and weighed on one tree in one season. */
export type SimulatedTreeSeason = {
  readonly cultivar: number;
  readonly season: number;
  readonly tree: number;
  readonly site: number;
  readonly fruit: number;
  readonly branches: number;
  readonly weights: readonly number[];
  readonly sound: number;
  readonly picked: number;
};

export type SimulatedTrial = {
  readonly cultivars: number;
  readonly scores: readonly SimulatedScore[];
  readonly treeSeasons: readonly SimulatedTreeSeason[];
  /** The index of each cultivar as unlimited evidence from these seasons, sittings, tasters and sites would have it. */
  readonly truth: readonly number[];
  /** The parts of that index, on the scale. */
  readonly trueParts: readonly Readonly<Record<SimulatedTrait, number>>[];
};

export const INDEX_WEIGHTS = { flavour: 3, sweetness: 2, productivity: 2, size: 1, soundness: 2 };
export const INDEX_BANDS = {
  productivity: [
    [0, 1],
    [4, 10],
  ],
  size: [
    [20, 1],
    [80, 10],
  ],
  soundness: [
    [0.5, 1],
    [1, 10],
  ],
} as const;

const TASTERS = 4;
const TASTED = ['flavour', 'sweetness'] as const;
const MEASURED = ['productivity', 'size', 'soundness'] as const;
export type SimulatedTrait = (typeof TASTED)[number] | (typeof MEASURED)[number];

/** Where a trait's effects come from: normal effects of each kind, looked up by a key that is drawn at first use. */
type TraitEffects = {
  readonly level: number;
  readonly spread: Readonly<Record<EffectKind, number>>;
};
type EffectKind =
  | 'cultivar'
  | 'swing'
  | 'tree'
  | 'treeSeason'
  | 'plate'
  | 'season'
  | 'site'
  | 'cultivarSite';

/**
 * A made-up trial with known truth. Tasted traits share part of every effect (a halo); each score is a latent
 * liking, rounded and cut off at 1 and 10. Measured figures are counts and weights: negative-binomial loads around a
 * lognormal rate, lognormal fruit weights, sound fruit beta-binomial around a logistic-normal share.
 */
export function simulatedTrial(scenario: TrialScenario, seed: number): SimulatedTrial {
  const random = seededRandom(seed);
  const effects = drawTraits(scenario, random);
  const draw = effectTable(effects, scenario, random);
  const plan = plantTrees(scenario, random);
  const sittings = drawSittings(scenario, random);
  const tasters = drawTasters(scenario, random);
  const scores = taste(scenario, random, effects, draw, plan, sittings, tasters);
  const treeSeasons = measure(scenario, random, effects, draw, plan);
  const held = new Set(scores.map((score) => score.sitting));
  const trueParts = Array.from({ length: scenario.cultivars }, (_, cultivar) =>
    partsOf(
      scenario,
      effects,
      draw,
      sittings.filter((_, at) => held.has(at)),
      tasters,
      cultivar,
    ),
  );
  return {
    cultivars: scenario.cultivars,
    scores,
    treeSeasons,
    truth: trueParts.map(weighted),
    trueParts,
  };
}

const between = (random: SeededRandom, low: number, high: number) =>
  low + (high - low) * random.uniform();

function drawTraits(
  scenario: TrialScenario,
  random: SeededRandom,
): Record<SimulatedTrait, TraitEffects> {
  const u = (low: number, high: number) => between(random, low, high);
  const tasted = (): TraitEffects => ({
    level: scenario.level + u(-0.4, 0.4),
    spread: {
      cultivar: u(0.8, 1.5),
      swing: u(0.3, 0.8) * scenario.swing,
      tree: u(0.2, 0.6),
      treeSeason: u(0.1, 0.4),
      plate: u(0.3, 0.7),
      season: 0,
      site: 0.7,
      cultivarSite: 0.3,
    },
  });
  const measured = (level: number, unit: number): TraitEffects => ({
    level,
    spread: {
      cultivar: u(0.7, 1.3) * unit,
      swing: u(0.25, 0.7) * unit * scenario.swing,
      tree: u(0.2, 0.6) * unit,
      treeSeason: u(0.2, 0.6) * unit,
      plate: 0,
      season: 0.5 * unit,
      site: 0.5 * unit,
      cultivarSite: 0.25 * unit,
    },
  });
  const soundness = measured(1.4, 0.6);
  return {
    flavour: tasted(),
    sweetness: tasted(),
    productivity: measured(Math.log(1.9), 0.45),
    size: measured(Math.log(46), 0.28),
    // What one tree does in one season beyond that is the beta-binomial's.
    soundness: { ...soundness, spread: { ...soundness.spread, treeSeason: 0 } },
  };
}

type EffectOf = (trait: SimulatedTrait, kind: EffectKind, key: string | number) => number;

function effectTable(
  effects: Record<SimulatedTrait, TraitEffects>,
  scenario: TrialScenario,
  random: SeededRandom,
): EffectOf {
  const drawn = new Map<string, number>();
  const standard = (name: string, skewed: boolean): number => {
    const known = drawn.get(name);
    if (known !== undefined) return known;
    // Skewed: a standardised gamma of shape 1.5 has a long upper tail.
    const value = skewed ? (random.gamma(1.5) - 1.5) / Math.sqrt(1.5) : random.normal();
    drawn.set(name, value);
    return value;
  };
  return (trait, kind, key) => {
    const skewed = scenario.skewed && kind === 'cultivar';
    const own = standard(`${trait} ${kind} ${key}`, skewed);
    const isTasted = trait === 'flavour' || trait === 'sweetness';
    const halo = isTasted ? standard(`tasted ${kind} ${key}`, skewed) : 0;
    const mixed = isTasted ? Math.SQRT1_2 * (own + halo) : own;
    return effects[trait].spread[kind] * mixed;
  };
}

type Tree = { cultivar: number; tree: number; site: number; from: number };

function plantTrees(scenario: TrialScenario, random: SeededRandom): Tree[] {
  const trees: Tree[] = [];
  for (let cultivar = 0; cultivar < scenario.cultivars; cultivar++) {
    const from = random.uniform() < scenario.late ? random.integer(scenario.seasons) : 0;
    const count = 1 + random.integer(scenario.mostTrees);
    for (let k = 0; k < count; k++) {
      trees.push({ cultivar, tree: trees.length, site: random.integer(scenario.sites), from });
    }
  }
  return trees;
}

type Sitting = { season: number; mood: number };

function drawSittings(scenario: TrialScenario, random: SeededRandom): Sitting[] {
  return Array.from({ length: scenario.seasons }, (_, season) => {
    const year = 0.3 * random.normal();
    return Array.from({ length: scenario.sittingsPerSeason }, () => {
      const poor = random.uniform() < 0.12 ? -1.5 : 0;
      return { season, mood: year + 0.4 * random.normal() + poor };
    });
  }).flat();
}

type Taster = { shift: number; noise: number; taste: (cultivar: number) => number };

function drawTasters(scenario: TrialScenario, random: SeededRandom): Taster[] {
  const quirk = between(random, 0.2, 0.5);
  return Array.from({ length: TASTERS }, () => {
    const likes = Array.from({ length: scenario.cultivars }, () => quirk * random.normal());
    return {
      shift: scenario.harshness * random.normal(),
      noise: between(random, 0.7, 1.3),
      taste: (cultivar: number) => likes[cultivar] ?? 0,
    };
  });
}

function seasonOfSittings(
  scenario: TrialScenario,
  trees: readonly Tree[],
  season: number,
  random: SeededRandom,
): Tree[][] {
  const present = [
    ...new Set(trees.filter((tree) => tree.from <= season).map((tree) => tree.cultivar)),
  ];
  // Sittings go through the cultivars in random order, again and again.
  const queue: number[] = [];
  while (queue.length < 5 * scenario.sittingsPerSeason) queue.push(...random.shuffle(present));
  return Array.from({ length: scenario.sittingsPerSeason }, (_, k) => {
    const plates = [...new Set(queue.slice(5 * k, 5 * k + 5))];
    return plates.flatMap((cultivar) => {
      const own = trees.filter((tree) => tree.cultivar === cultivar);
      const tree = own[random.integer(own.length)];
      return tree === undefined ? [] : [tree];
    });
  });
}

function taste(
  scenario: TrialScenario,
  random: SeededRandom,
  effects: Record<SimulatedTrait, TraitEffects>,
  draw: EffectOf,
  trees: readonly Tree[],
  sittings: readonly Sitting[],
  tasters: readonly Taster[],
): SimulatedScore[] {
  const scores: SimulatedScore[] = [];
  let plate = 0;
  for (let season = 0; season < scenario.seasons; season++) {
    seasonOfSittings(scenario, trees, season, random).forEach((plates, k) => {
      const sitting = season * scenario.sittingsPerSeason + k;
      const absent = random.integer(TASTERS);
      for (const { cultivar, tree, site } of plates) {
        const latent = (trait: (typeof TASTED)[number]) =>
          effects[trait].level +
          (sittings[sitting]?.mood ?? 0) +
          draw(trait, 'cultivar', cultivar) +
          draw(trait, 'swing', `${cultivar} ${season}`) +
          draw(trait, 'tree', tree) +
          draw(trait, 'treeSeason', `${tree} ${season}`) +
          draw(trait, 'plate', plate) +
          siteEffect(scenario, draw, trait, cultivar, site);
        const [flavour, sweetness] = [latent('flavour'), latent('sweetness')];
        tasters.forEach((taster, who) => {
          if (who === absent) return;
          const common = taster.shift + taster.taste(cultivar);
          const halo = random.normal();
          const score = (liking: number) => {
            const noise = taster.noise * Math.SQRT1_2 * (halo + random.normal());
            const given = Math.min(10, Math.max(1, Math.round(liking + common + noise)));
            return random.uniform() < scenario.missing ? undefined : given;
          };
          const given = { flavour: score(flavour), sweetness: score(sweetness) };
          scores.push({ cultivar, season, tree, site, sitting, plate, taster: who, ...given });
        });
        plate++;
      }
    });
  }
  return scores;
}

function siteEffect(
  scenario: TrialScenario,
  draw: EffectOf,
  trait: SimulatedTrait,
  cultivar: number,
  site: number,
): number {
  if (scenario.sites === 1) return 0;
  return draw(trait, 'site', site) + draw(trait, 'cultivarSite', `${cultivar} ${site}`);
}

function measure(
  scenario: TrialScenario,
  random: SeededRandom,
  effects: Record<SimulatedTrait, TraitEffects>,
  draw: EffectOf,
  trees: readonly Tree[],
): SimulatedTreeSeason[] {
  const rows: SimulatedTreeSeason[] = [];
  const sameness = between(random, 8, 30);
  for (let season = 0; season < scenario.seasons; season++) {
    for (const { cultivar, tree, site, from } of trees) {
      if (from > season || random.uniform() < scenario.missing) continue;
      const level = (trait: (typeof MEASURED)[number]) =>
        effects[trait].level +
        draw(trait, 'cultivar', cultivar) +
        draw(trait, 'swing', `${cultivar} ${season}`) +
        draw(trait, 'tree', tree) +
        draw(trait, 'treeSeason', `${tree} ${season}`) +
        draw(trait, 'season', season) +
        siteEffect(scenario, draw, trait, cultivar, site);
      const branches = 4 + random.integer(12);
      const fruit = poisson(
        random,
        (branches * Math.exp(level('productivity')) * random.gamma(20)) / 20,
      );
      const share = betaAround(random, 1 / (1 + Math.exp(-level('soundness'))), sameness);
      const picked = Math.ceil(0.8 * fruit);
      let sound = 0;
      for (let k = 0; k < picked; k++) if (random.uniform() < share) sound++;
      const weights = Array.from({ length: Math.min(picked, 12) }, () =>
        Math.exp(level('size') - 0.02 + 0.2 * random.normal()),
      );
      rows.push({ cultivar, season, tree, site, fruit, branches, weights, sound, picked });
    }
  }
  return rows;
}

/** Beta draw of the given mean; the greater the sameness, the closer to it. */
function betaAround(random: SeededRandom, mean: number, sameness: number): number {
  const sound = random.gamma(mean * sameness);
  return sound / (sound + random.gamma((1 - mean) * sameness));
}

function poisson(random: SeededRandom, mean: number): number {
  // Exponential waiting times: exact, and means here are a few dozen.
  let count = -1;
  for (let time = 0; time <= mean; count++) time -= Math.log(1 - random.uniform());
  return count;
}

function partsOf(
  scenario: TrialScenario,
  effects: Record<SimulatedTrait, TraitEffects>,
  draw: EffectOf,
  sittings: readonly Sitting[],
  tasters: readonly Taster[],
  cultivar: number,
): Record<SimulatedTrait, number> {
  const sites = Array.from({ length: scenario.sites }, (_, site) => site);
  const seasons = Array.from({ length: scenario.seasons }, (_, season) => season);
  const parts: Record<SimulatedTrait, number> = {
    flavour: 0,
    sweetness: 0,
    productivity: 0,
    size: 0,
    soundness: 0,
  };
  for (const trait of TASTED) {
    const own = effects[trait].level + draw(trait, 'cultivar', cultivar);
    const swing = variance(effects[trait], ['swing', 'tree', 'treeSeason', 'plate']);
    parts[trait] = average(
      sites.flatMap((site) =>
        sittings.flatMap(({ mood }) =>
          tasters.map(({ shift, noise, taste: likes }) =>
            expectedScore(
              own +
                siteEffect(scenario, draw, trait, cultivar, site) +
                mood +
                shift +
                likes(cultivar),
              Math.sqrt(swing + noise * noise),
            ),
          ),
        ),
      ),
    );
  }
  for (const trait of MEASURED) {
    const own = effects[trait].level + draw(trait, 'cultivar', cultivar);
    const swing = Math.sqrt(variance(effects[trait], ['swing', 'tree', 'treeSeason']));
    const mean = average(
      sites.flatMap((site) =>
        seasons.map((season) =>
          expectedFigure(
            trait,
            own + siteEffect(scenario, draw, trait, cultivar, site) + draw(trait, 'season', season),
            swing,
          ),
        ),
      ),
    );
    parts[trait] = onBand(INDEX_BANDS[trait], mean);
  }
  return parts;
}

export function weighted(parts: Record<SimulatedTrait, number>): number {
  let [sum, total] = [0, 0];
  for (const [part, weight] of Object.entries(INDEX_WEIGHTS)) {
    sum += weight * parts[part as SimulatedTrait];
    total += weight;
  }
  return sum / total;
}

const average = (values: readonly number[]) =>
  values.reduce((sum, value) => sum + value, 0) / values.length;

const variance = (trait: TraitEffects, kinds: readonly EffectKind[]) =>
  kinds.reduce((sum, kind) => sum + trait.spread[kind] ** 2, 0);

/** Mean of a normal liking once rounded and cut off at 1 and 10: 1 plus the chance of passing each step. */
function expectedScore(mean: number, sd: number): number {
  let score = 1;
  for (let step = 1.5; step < 10; step++) score += 1 - normalCdf(step, mean, sd);
  return score;
}

function expectedFigure(trait: (typeof MEASURED)[number], mean: number, sd: number): number {
  if (trait !== 'soundness') return Math.exp(mean + (sd * sd) / 2);
  let [sum, total] = [0, 0];
  for (let z = -5; z <= 5; z += 0.1) {
    const density = Math.exp(-(z * z) / 2);
    sum += density / (1 + Math.exp(-(mean + sd * z)));
    total += density;
  }
  return sum / total;
}

/** A band has two points here. */
export function onBand(band: readonly (readonly [number, number])[], figure: number): number {
  const [[x0, y0], [x1, y1]] = [band[0] ?? [0, 1], band[1] ?? [1, 10]];
  const share = Math.min(1, Math.max(0, (figure - x0) / (x1 - x0)));
  return y0 + share * (y1 - y0);
}
