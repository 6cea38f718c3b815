import normalCdf from '@stdlib/stats-base-dists-normal-cdf';
import { INDEX_BANDS, onBand } from './index-rule.ts';
import {
  type EffectKind,
  type EffectOf,
  MEASURED,
  type SimulatedTrait,
  siteEffect,
  TASTED,
  type TraitEffects,
} from './trial-effects.ts';
import type { TrialScenario } from './trial-scenarios.ts';

/** One sitting: its season, and what it adds to every score. */
export type Sitting = { season: number; mood: number };

/** A taster: shift of all scores, noise, and likes of single cultivars. */
export type Taster = { shift: number; noise: number; taste: (cultivar: number) => number };

/**
 * The parts of a cultivar's index as unlimited evidence would have them: the mean score that these tasters would give it
 * on evenings like these, and the band of its mean figure in these seasons, over endless trees, plates and swings.
 */
export function trueParts(
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
