import { backwardInPlace, choleskyInPlace, forwardInPlace } from '../numbers/cholesky-in-place.ts';
import type { Normals } from '../random/seeded-random.ts';
import type { EffectPlaces } from './effect-places.ts';
import { ITEM, SEASON, SITE } from './joint-trial.ts';
import type { PartChain } from './part-chain.ts';

/**
 * A direction in which effects and what is drawn apart from them hold each other up: what all items have in common at a
 * site or in a season may stand with the items or with the site or season itself, and values say nothing of it.
 */
export interface Ridge {
  /** Place of the level whose effects slide. */
  readonly level: number;
  /** Which of its effects. */
  readonly effects: Int32Array;
  /** The spots that they belong to. */
  readonly spots: Int32Array;
  /** By part: what slides the other way, columns of sites or blocks. */
  readonly against: 'column' | 'block';
  readonly held: readonly Int32Array[];
}

/** All ridges of a trial: items against sites, items at a site against that site, items in a season against its blocks. */
export function ridgesOf(places: EffectPlaces, parts: readonly PartChain[]): readonly Ridge[] {
  const { spotSite, spotSeason, siteOf, seasonOf, items } = places;
  const all = (length: number) => Int32Array.from({ length }, (_, at) => at);
  const of = (values: Int32Array, wanted: number) =>
    Int32Array.from([...values.keys()].filter((at) => values[at] === wanted));
  const spotsOf = (effectOf: Int32Array, groupOf: Int32Array, wanted: number) =>
    Int32Array.from(
      [...effectOf.keys()].filter((spot) => groupOf[effectOf[spot] as number] === wanted),
    );
  return [
    {
      level: ITEM,
      effects: all(items),
      spots: all(places.spots),
      against: 'column',
      held: parts.map(({ cells }) => all(cells.sites.length)),
    },
    ...[...new Set(siteOf)].map(
      (site): Ridge => ({
        level: SITE,
        effects: of(siteOf, site),
        spots: spotsOf(spotSite, siteOf, site),
        against: 'column',
        held: parts.map(({ cells }) => of(cells.sites, site)),
      }),
    ),
    ...[...new Set(seasonOf)]
      .filter((season) => parts.every((part) => isWhole(part, season)))
      .map(
        (season): Ridge => ({
          level: SEASON,
          effects: of(seasonOf, season),
          spots: spotsOf(spotSeason, seasonOf, season),
          against: 'block',
          held: parts.map((part) => Int32Array.from(blocksIn(part, season))),
        }),
      ),
  ];
}

function blocksIn({ cells }: PartChain, season: number): ReadonlySet<number> {
  const { plateBlock, plateSeason } = cells;
  return new Set([...plateBlock].filter((_, plate) => plateSeason[plate] === season));
}

/** Whether no block of a season reaches into another. */
function isWhole(part: PartChain, season: number): boolean {
  const own = blocksIn(part, season);
  const { plateBlock, plateSeason } = part.cells;
  return plateBlock.every((block, plate) => !own.has(block) || plateSeason[plate] === season);
}

/** Draws how far to slide along ridges, from the priors alone: what was seen stays as well told as it was. */
export class Slides {
  readonly #parts: readonly PartChain[];
  readonly #system: Float64Array;
  readonly #slide: Float64Array;
  readonly #noise: Float64Array;
  readonly #sums: Float64Array;

  constructor(parts: readonly PartChain[]) {
    const count = parts.length;
    this.#parts = parts;
    this.#system = new Float64Array(count * count);
    this.#slide = new Float64Array(count);
    this.#noise = new Float64Array(count);
    this.#sums = new Float64Array(count);
  }

  /**
   * @param effects of the ridge's level, all parts of one after another
   * @param precision of its effects, parts x parts
   * @param fit sums of the effects of spots, which follow
   */
  along(
    { effects: own, spots, against, held }: Ridge,
    effects: Float64Array,
    precision: Float64Array,
    fit: Float64Array,
    random: Normals,
  ): void {
    const [count, system, slide] = [this.#parts.length, this.#system, this.#slide];
    const [sums, noise] = [this.#sums.fill(0), this.#noise];
    for (let at = 0; at < own.length; at++) {
      const from = (own[at] as number) * count;
      for (let k = 0; k < count; k++) sums[k] = (sums[k] as number) + (effects[from + k] as number);
    }
    for (let k = 0; k < count; k++) {
      let right = 0;
      for (let l = 0; l < count; l++) {
        const cell = precision[k * count + l] as number;
        system[k * count + l] = own.length * cell;
        right += cell * (sums[l] as number);
      }
      const part = this.#parts[k] as PartChain;
      const values = part.levels[against];
      const wide = against === 'column' ? part.wide : 1 / (part.blockSpread * part.blockSpread);
      const places = held[k] as Int32Array;
      for (let at = 0; at < places.length; at++) {
        right -= wide * (values[places[at] as number] as number);
      }
      slide[k] = right;
      system[k * count + k] = (system[k * count + k] as number) + wide * places.length;
    }
    choleskyInPlace(system, count);
    forwardInPlace(system, count, slide);
    random.normals(noise, count);
    for (let k = 0; k < count; k++) slide[k] = (slide[k] as number) + (noise[k] as number);
    backwardInPlace(system, count, slide);
    subtract(effects, own, slide);
    subtract(fit, spots, slide);
    for (let k = 0; k < count; k++) {
      const values = (this.#parts[k] as PartChain).levels[against];
      const places = held[k] as Int32Array;
      for (let at = 0; at < places.length; at++) {
        const place = places[at] as number;
        values[place] = (values[place] as number) + (slide[k] as number);
      }
    }
  }
}

function subtract(from: Float64Array, places: Int32Array, values: Float64Array): void {
  for (let at = 0; at < places.length; at++) {
    const first = (places[at] as number) * values.length;
    for (let k = 0; k < values.length; k++) {
      from[first + k] = (from[first + k] as number) - (values[k] as number);
    }
  }
}
