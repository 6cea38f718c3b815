import { type SeededRandom, seededRandom } from '../../src/stats/random/seeded-random.ts';
import { weighted } from './index-rule.ts';
import {
  between,
  drawTraits,
  type EffectOf,
  effectTable,
  type MEASURED,
  type SimulatedTrait,
  siteEffect,
  type TASTED,
  type TraitEffects,
} from './trial-effects.ts';
import type { TrialScenario } from './trial-scenarios.ts';
import { type Sitting, type Taster, trueParts } from './trial-truth.ts';

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

const TASTERS = 4;

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
  const parts = Array.from({ length: scenario.cultivars }, (_, cultivar) =>
    trueParts(
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
    truth: parts.map(weighted),
    trueParts: parts,
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

function drawSittings(scenario: TrialScenario, random: SeededRandom): Sitting[] {
  return Array.from({ length: scenario.seasons }, (_, season) => {
    const year = 0.3 * random.normal();
    return Array.from({ length: scenario.sittingsPerSeason }, () => {
      const poor = random.uniform() < 0.12 ? -1.5 : 0;
      return { season, mood: year + 0.4 * random.normal() + poor };
    });
  }).flat();
}

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
