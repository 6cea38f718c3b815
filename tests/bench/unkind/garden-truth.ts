import { INDEX_BANDS, onBand, weighted } from '../index-rule.ts';
import type { Chance } from './chance.ts';
import {
  GARDEN_TRAITS,
  type Garden,
  type GardenTrait,
  type Lean,
  SHARES,
  swing,
  treeLean,
  UNITS,
  upTo,
} from './garden.ts';
import type { GardenPart } from './garden-kinds.ts';
import { coverOf, givenScore, plateLuck, scorers } from './garden-records.ts';

/** What endless evidence from grown trees would say of a cultivar. */
export interface TrueCultivar {
  readonly index: number;
  /** The same at the sites of one cover, all of them alike; absent for a cover that no site has. */
  readonly under: Readonly<Partial<Record<'open' | 'glass', number>>>;
  /** By part: mean score of a trait; fruit per branch; grams; share of sound fruit. */
  readonly figures: Readonly<Record<GardenTrait | MeasuredName, number>>;
  /** The index of each of some new trees, each in a new season at a site of the garden. */
  readonly newTrees: readonly number[];
}

type MeasuredName = 'productivity' | 'size' | 'soundness';

const DRAWS = 300;
const NEW_TREES = 20;
/** Plates and tree-seasons of one new tree. */
const NEW_DRAWS = 60;
const PART_OF = { productivity: 'load', size: 'size', soundness: 'sound' } as const;

/**
 * True index and figures of each cultivar: scores as these tasters would write them down on evenings like these, and
 * harvest in seasons like these, over new trees, new swings, new plates and all sites alike. Of ripe fruit of grown
 * trees, noted without a slip.
 */
export function trueGarden(garden: Garden, luck: Chance): TrueCultivar[] {
  const ripe: Garden = { ...garden, kind: { ...garden.kind, unripe: 0, slips: 0 } };
  const swings = movement(ripe, luck);
  return ripe.cultivars.map((_, cultivar) => {
    const sites = upTo(ripe.kind.sites);
    const bySite = sites.map((site) => figuresAt(ripe, luck, cultivar, site, swings, DRAWS));
    const figures = mean(bySite);
    const under = (['open', 'glass'] as const).flatMap((cover) => {
      const own = bySite.filter((_, site) => coverOf(ripe.kind, site) === cover);
      return own.length === 0 ? [] : [[cover, indexOf(mean(own))] as const];
    });
    const newTrees = upTo(NEW_TREES).map(() => {
      const tree = movement(ripe, luck, 1);
      return indexOf(figuresAt(ripe, luck, cultivar, luck.below(ripe.kind.sites), tree, NEW_DRAWS));
    });
    return { index: indexOf(figures), under: Object.fromEntries(under), figures, newTrees };
  });
}

/**
 * True index of a cultivar over all sites alike, new trees and swings.
 *
 * @param likings what gardens may do to it beside, of which each draw takes one in turn
 */
export function trueIndex(
  garden: Garden,
  luck: Chance,
  cultivar: number,
  likings: readonly Lean[],
  draws: number,
): number {
  const moved = movement(garden, luck, draws).map((one, at) => {
    const liking = likings[at % likings.length] as Lean;
    return {
      taste: one.taste + liking.taste,
      load: one.load + liking.load,
      size: one.size + liking.size,
      sound: one.sound + liking.sound,
    };
  });
  const sites = upTo(garden.kind.sites);
  return indexOf(mean(sites.map((site) => figuresAt(garden, luck, cultivar, site, moved, draws))));
}

type Figures = Record<GardenTrait | MeasuredName, number>;
type Movement = readonly Readonly<Record<GardenPart, number>>[];

/** Draws of swing and tree together, in units of the spread between cultivars. */
function movement(garden: Garden, luck: Chance, draws = DRAWS): Movement {
  if (garden.kind.equal === 'plates') return [{ taste: 0, load: 0, size: 0, sound: 0 }];
  return upTo(draws).map(() => {
    const [season, tree] = [swing(garden.kind, luck), treeLean(garden.kind, luck)];
    return {
      taste: season.taste + tree.taste,
      load: season.load + tree.load,
      size: season.size + tree.size,
      sound: season.sound + tree.sound,
    };
  });
}

function figuresAt(
  garden: Garden,
  luck: Chance,
  cultivar: number,
  site: number,
  moved: Movement,
  draws: number,
): Figures {
  const own = garden.cultivars[cultivar] as Garden['cultivars'][0];
  const standing = (part: GardenPart) =>
    own.lean[part] + (own.liking[site]?.[part] ?? 0) + (garden.sites[site]?.[part] ?? 0);
  const figures = { flavour: 0, sweetness: 0, productivity: 0, size: 0, soundness: 0 };
  for (const trait of GARDEN_TRAITS) {
    const level = garden.levels.taste + UNITS.taste * (standing('taste') + own.traits[trait]);
    let sum = 0;
    for (let draw = 0; draw < draws; draw++) {
      const { taste } = moved[draw % moved.length] as Movement[0];
      const plate = plateLuck(garden, luck);
      const noise = Math.SQRT1_2 * (luck.shape('bell') + luck.shape('bell'));
      const liking = level + UNITS.taste * taste + plate;
      sum += meanGiven(garden, liking, noise);
    }
    figures[trait] = sum / draws;
  }
  // As endless seasons would have it: heavy and light years alike.
  const wave = Math.cosh(garden.kind.alternation ?? 0);
  for (const name of ['productivity', 'size', 'soundness'] as const) {
    const part = PART_OF[name];
    let [sum, count] = [0, 0];
    for (let draw = 0; draw < draws; draw++) {
      const by = (moved[draw % moved.length] as Movement[0])[part];
      const alone = SHARES.treeSeason * luck.shape('bell');
      garden.years.forEach((year) => {
        const value =
          garden.levels[part] + UNITS[part] * (standing(part) + year[part] + by + alone);
        const grown = part === 'load' ? wave * Math.exp(value) : Math.exp(value);
        sum += part === 'sound' ? grown / (1 + grown) : grown;
        count++;
      });
    }
    figures[name] = sum / count;
  }
  return figures;
}

/** What the tasters would write down on average on all evenings of the trial. */
function meanGiven(garden: Garden, liking: number, noise: number): number {
  let sum = 0;
  garden.evenings.forEach((_, evening) => {
    scorers(garden).forEach((_, hand) => {
      sum += givenScore(garden, hand, evening, liking, noise);
    });
  });
  return sum / (garden.evenings.length * scorers(garden).length);
}

function indexOf(figures: Figures): number {
  return weighted({
    flavour: figures.flavour,
    sweetness: figures.sweetness,
    productivity: onBand(INDEX_BANDS.productivity, figures.productivity),
    size: onBand(INDEX_BANDS.size, figures.size),
    soundness: onBand(INDEX_BANDS.soundness, figures.soundness),
  });
}

function mean(of: readonly Figures[]): Figures {
  const total = { flavour: 0, sweetness: 0, productivity: 0, size: 0, soundness: 0 };
  for (const figures of of) {
    for (const key of Object.keys(total) as (keyof Figures)[])
      total[key] += figures[key] / of.length;
  }
  return total;
}
