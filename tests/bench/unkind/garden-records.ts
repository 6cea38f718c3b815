import { INDEX_BANDS, INDEX_WEIGHTS } from '../index-rule.ts';
import type { Chance } from './chance.ts';
import {
  GARDEN_TRAITS,
  type Garden,
  type GardenTrait,
  type GardenTree,
  SHARES,
  UNITS,
  upTo,
  YOUTH,
} from './garden.ts';
import type { GardenKind } from './garden-kinds.ts';

/** What someone in the garden wrote down that season. */
export interface SeasonRecord {
  readonly counts: object[];
  readonly picks: object[];
  readonly tastings: object[];
}

export const FIRST_YEAR = 2021;
const PLATES = 5;

/** The files of a ledger: JSON, which is YAML as well. */
export function gardenFiles(
  garden: Garden,
  seasons: readonly SeasonRecord[],
  verdict: { readonly increase_above: number; readonly discard_below: number },
): Record<string, string> {
  const entries = <Value>(count: number, each: (at: number) => readonly [string, Value]) =>
    Object.fromEntries(upTo(count).map(each));
  const { kind } = garden;
  const files: Record<string, object> = {
    'ledger.yaml': {
      title: kind.name,
      fruit: 'quince',
      scale: { low: 1, high: 10 },
      traits: GARDEN_TRAITS,
      tasters: entries(kind.tasters, (at) => [`t${at}`, `Taster ${at}`]),
      sites: entries(kind.sites, (at) => [
        `s${at}`,
        { name: `site ${at}`, cover: coverOf(kind, at) },
      ]),
      rank: { weights: INDEX_WEIGHTS, bands: INDEX_BANDS },
      verdict: { min_seasons: 1, min_tastings: 1, ...verdict },
    },
    'cultivars.yaml': entries(kind.cultivars, (at) => [
      cultivarKey(at),
      { name: `Made Up ${at}`, bears: 'main' },
    ]),
    'trees.yaml': Object.fromEntries(
      garden.trees.map((tree) => [
        tree.id,
        {
          cultivar: cultivarKey(tree.cultivar),
          site: `s${tree.site}`,
          ...(tree.planted === undefined ? {} : { planted: FIRST_YEAR + tree.planted }),
        },
      ]),
    ),
  };
  seasons.forEach((record, season) => {
    files[`seasons/${FIRST_YEAR + season}.yaml`] = { season: FIRST_YEAR + season, ...record };
  });
  return Object.fromEntries(
    Object.entries(files).map(([path, content]) => [path, JSON.stringify(content, null, 1)]),
  );
}

export function coverOf({ covers }: GardenKind, site: number): 'open' | 'glass' {
  return covers === true && site % 2 === 1 ? 'glass' : 'open';
}

export function cultivarKey(at: number): string {
  return `c${String(at).padStart(2, '0')}`;
}

/** A season as it is written down: every grown tree counted and picked once, and its evenings. */
export function writeSeason(garden: Garden, season: number, luck: Chance): SeasonRecord {
  const record: SeasonRecord = { counts: [], picks: [], tastings: [] };
  const bearing = garden.trees.filter((tree) => ageIn(tree, season) >= 1);
  for (const tree of bearing) harvest(garden, tree, season, luck, record);
  const queue: number[] = [];
  const present = [...new Set(bearing.map(({ cultivar }) => cultivar))];
  garden.evenings.forEach((evening, at) => {
    if (evening.season !== season) return;
    while (queue.length < PLATES) queue.push(...luck.shuffled(present));
    const served = [...new Set(queue.splice(0, PLATES))].flatMap((cultivar) => {
      const own = bearing.filter((tree) => tree.cultivar === cultivar);
      return own.length === 0 ? [] : [own[luck.below(own.length)] as GardenTree];
    });
    record.tastings.push(sitting(garden, at, served, luck));
  });
  return record;
}

/** A sitting of the given trees on an evening of the garden. */
export function sitting(
  garden: Garden,
  evening: number,
  served: readonly GardenTree[],
  luck: Chance,
): object {
  const { season } = garden.evenings[evening] as Garden['evenings'][0];
  const plates = served.map((tree) => ({
    tree,
    luck: plateLuck(garden, luck),
    liking: Object.fromEntries(
      GARDEN_TRAITS.map((trait) => [trait, likingOf(garden, tree, season, trait)]),
    ),
  }));
  const scores = garden.hands.map((_, hand) => {
    const absent = garden.hands.length > 2 && luck.uniform() < 0.2;
    return absent
      ? {}
      : Object.fromEntries(
          plates.map((plate) => {
            const halo = luck.shape('bell');
            const marks = GARDEN_TRAITS.map((trait) => {
              const noise = Math.SQRT1_2 * (halo + luck.shape('bell'));
              const liking = (plate.liking[trait] ?? 0) + plate.luck;
              return [trait, givenScore(garden, hand, evening, liking, noise)];
            });
            return [plate.tree.id, Object.fromEntries(marks)];
          }),
        );
  });
  const sheets = scores
    .map((own, at) => ({ own, at }))
    .filter(({ own }) => Object.keys(own).length);
  const isScored = ({ at }: { readonly at: number }) => at < scorers(garden).length;
  const orders = sheets
    .filter((sheet) => !isScored(sheet))
    .map(({ own, at }) => [`t${at}`, bestFirst(own)] as const);
  return {
    on: eveningDate(garden, evening),
    samples: served.map((tree) => ({ tree: tree.id, crop: 'main', ripeness: 'ripe' })),
    scores: Object.fromEntries(sheets.filter(isScored).map(({ own, at }) => [`t${at}`, own])),
    ...(orders.length === 0 ? {} : { order: Object.fromEntries(orders) }),
  };
}

/** Those who write scores down; the others only put plates in order. */
export function scorers({ hands, kind }: Garden): Garden['hands'] {
  return hands.slice(0, hands.length - (kind.orderers ?? 0));
}

/** Plates by the sum of what someone would have given them, those alike tied. */
function bestFirst(given: Readonly<Record<string, Readonly<Record<string, number>>>>) {
  const sums = Object.entries(given).map(
    ([tree, marks]) => [tree, Object.values(marks).reduce((sum, one) => sum + one)] as const,
  );
  const levels = [...new Set(sums.map(([, sum]) => sum))].toSorted((a, b) => b - a);
  return levels.map((level) => {
    const tied = sums.filter(([, sum]) => sum === level).map(([tree]) => tree);
    return tied.length === 1 ? tied[0] : tied;
  });
}

/** The day of an evening of the garden. */
export function eveningDate({ evenings }: Garden, evening: number): string {
  return dateOf(evenings[evening]?.season ?? 0, 240 + 7 * (evening % 8));
}

/** What one plate has of its own, before anybody tastes it. */
export function plateLuck({ kind }: Garden, luck: Chance): number {
  const own = kind.wildEvenings === true ? luck.shape('wild') : luck.shape('peaked');
  const notRipe = luck.uniform() < (kind.unripe ?? 0) ? -1.5 : 0;
  return UNITS.taste * SHARES.plate * own + notRipe;
}

/** The score that someone writes down for what is so well liked on average. */
export function givenScore(
  garden: Garden,
  hand: number,
  evening: number,
  liking: number,
  noise: number,
): number {
  const { harsh, width, noise: rough } = garden.hands[hand] as Garden['hands'][0];
  const mood = garden.evenings[evening]?.mood ?? 0;
  const felt = 6 + harsh + width * (liking + mood - 6) + rough * noise;
  return Math.min(10, Math.max(1, Math.round(felt)));
}

/** How well a tree's fruit of a season is liked, before plate, evening and hand. */
export function likingOf(
  garden: Garden,
  tree: GardenTree,
  season: number,
  trait: GardenTrait,
): number {
  const { lean, traits, liking, swings } = garden.cultivars[
    tree.cultivar
  ] as Garden['cultivars'][0];
  const sum =
    lean.taste +
    traits[trait] +
    (liking[tree.site]?.taste ?? 0) +
    (garden.sites[tree.site]?.taste ?? 0) +
    (swings[season]?.taste ?? 0) +
    tree.lean.taste;
  const green = YOUTH.tasted * Math.exp(-ageIn(tree, season) / YOUTH.ripens);
  return garden.levels.taste + UNITS.taste * sum - green;
}

/** Seasons since planting; without end where it is not known. */
function ageIn(tree: GardenTree, season: number): number {
  return tree.planted === undefined ? Number.POSITIVE_INFINITY : season - tree.planted;
}

/** By what age and the turn of good and bad years multiply the load of a tree in a season. */
export function bearingOf({ cultivars, kind }: Garden, tree: GardenTree, season: number): number {
  const grown = 1 - Math.exp(-ageIn(tree, season) / YOUTH.bears);
  const { turn } = cultivars[tree.cultivar] as Garden['cultivars'][0];
  return grown * Math.exp((kind.alternation ?? 0) * turn * (season % 2 === 0 ? 1 : -1));
}

function harvest(
  garden: Garden,
  tree: GardenTree,
  season: number,
  luck: Chance,
  { counts, picks }: SeasonRecord,
): void {
  const figure = (part: 'load' | 'size' | 'sound') => {
    const { lean, liking, swings } = garden.cultivars[tree.cultivar] as Garden['cultivars'][0];
    const sum =
      lean[part] +
      (liking[tree.site]?.[part] ?? 0) +
      (garden.sites[tree.site]?.[part] ?? 0) +
      (garden.years[season]?.[part] ?? 0) +
      (swings[season]?.[part] ?? 0) +
      tree.lean[part] +
      SHARES.treeSeason * luck.shape('bell');
    return garden.levels[part] + UNITS[part] * sum;
  };
  const branches = 4 + luck.below(12);
  const fruit = slipped(
    garden,
    luck,
    luck.poisson(branches * bearingOf(garden, tree, season) * Math.exp(figure('load'))),
  );
  counts.push({ on: dateOf(season, 190), tree: tree.id, crop: 'main', fruit, branches });
  if (fruit === 0) return;
  const picked = Math.max(1, Math.ceil(0.8 * fruit));
  const odds = Math.exp(figure('sound'));
  const split = upTo(picked).filter(() => luck.uniform() > odds / (1 + odds)).length;
  const size = figure('size');
  const weights = upTo(Math.min(picked, 10)).map(() =>
    Number(slipped(garden, luck, Math.exp(size + 0.2 * luck.shape('bell') - 0.02)).toFixed(1)),
  );
  picks.push({
    on: dateOf(season, 235),
    tree: tree.id,
    crop: 'main',
    fruit: picked,
    weights,
    split,
  });
}

function slipped({ kind }: Garden, luck: Chance, value: number): number {
  if (luck.uniform() >= (kind.slips ?? 0)) return value;
  return luck.uniform() < 0.5 ? Math.ceil(value / 2) : 2 * value;
}

function dateOf(season: number, dayOfYear: number): string {
  return new Date(Date.UTC(FIRST_YEAR + season, 0, dayOfYear)).toISOString().slice(0, 10);
}
