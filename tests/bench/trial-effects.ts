import type { SeededRandom } from '../../src/stats/random/seeded-random.ts';
import type { TrialScenario } from './trial-scenarios.ts';

export const TASTED = ['flavour', 'sweetness'] as const;
export const MEASURED = ['productivity', 'size', 'soundness'] as const;
export type SimulatedTrait = (typeof TASTED)[number] | (typeof MEASURED)[number];

/** Where a trait's effects come from: normal effects of each kind, looked up by a key that is drawn at first use. */
export type TraitEffects = {
  readonly level: number;
  readonly spread: Readonly<Record<EffectKind, number>>;
};
export type EffectKind =
  | 'cultivar'
  | 'swing'
  | 'tree'
  | 'treeSeason'
  | 'plate'
  | 'season'
  | 'site'
  | 'cultivarSite';

export const between = (random: SeededRandom, low: number, high: number) =>
  low + (high - low) * random.uniform();

export function drawTraits(
  scenario: TrialScenario,
  random: SeededRandom,
): Record<SimulatedTrait, TraitEffects> {
  const u = (low: number, high: number) => between(random, low, high);
  const tasted = (): TraitEffects => ({
    level: scenario.level + u(-0.4, 0.4),
    spread: {
      cultivar: u(0.8, 1.5) * scenario.contrast,
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
      cultivar: u(0.7, 1.3) * unit * scenario.contrast,
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

export type EffectOf = (trait: SimulatedTrait, kind: EffectKind, key: string | number) => number;

export function effectTable(
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

export function siteEffect(
  scenario: TrialScenario,
  draw: EffectOf,
  trait: SimulatedTrait,
  cultivar: number,
  site: number,
): number {
  if (scenario.sites === 1) return 0;
  return draw(trait, 'site', site) + draw(trait, 'cultivarSite', `${cultivar} ${site}`);
}
