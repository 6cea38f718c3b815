import { type CropRecord, cropRecords } from '../measure/crop-record.ts';
import { groupBy } from '../measure/group-by.ts';
import { pickWeight } from '../measure/pick-weight.ts';
import { total } from '../measure/total.ts';
import { WEIGHT_FIGURE } from '../measure/weight-figures.ts';
import type { Tree } from '../model/collection.ts';
import { type IsoDate, seasonOf } from '../model/dates.ts';
import {
  DEFECTS,
  type Defect,
  type Pick,
  type Ripeness,
  type Sample,
  type Score,
  type Taster,
  type TasteWords,
  type Tasting,
} from '../model/entries.ts';
import { CROPS, type Crop, type Ledger, type Season } from '../model/ledger.ts';
import { photoInside } from '../model/photo-path.ts';
import { plainWord } from '../model/plain-word.ts';
import { siteOn } from '../model/standing.ts';
import { mean } from '../stats/describe/mean.ts';
import { decimalSum } from '../stats/numbers/sum.ts';
import { type DayOrder, type DayPlace, dayOrder } from './day-order.ts';
import { ledgerAsOf } from './ledger-as-of.ts';
import { fruitLeft } from './lineup/fruit-left.ts';

/** What a day saw of one crop of one tree. */
export interface DayPlate {
  readonly tree: Tree;
  readonly crop: Crop;
  /** Key of the site where the tree stood that day. */
  readonly site: string;
  /** What was picked of it that day, if anything. */
  readonly picked: DayPicked | undefined;
  /** Mean fruit weight in other seasons, g; undefined where none was weighed. */
  readonly usual: UsualWeight | undefined;
  /** How it was served, if it was. */
  readonly tasted: DayTasted | undefined;
  /** Fruit per branch of the tree up to the day; undefined where either was not counted. */
  readonly fruitPerBranch: number | undefined;
  /** Fruit that should still hang by the counts; undefined without one. */
  readonly left: number | undefined;
  /** Notes of the picks and samples. */
  readonly notes: readonly string[];
  /** Paths inside the ledger, those of samples first. */
  readonly photos: readonly { readonly path: string; readonly what: 'plate' | 'pick' }[];
}

export interface DayPicked {
  readonly fruit: number;
  /** Of the fruit that were weighed, g; the best fruit picked out do not count. */
  readonly mean: number | undefined;
  /** Single weights, g. */
  readonly singles: readonly number[];
  /** Mean of fruit picked out as the best, g; undefined where there are none. */
  readonly best: number | undefined;
  readonly defects: Readonly<Record<Defect, number>>;
}

export interface UsualWeight {
  readonly mean: number;
  /** Whether it is of this very site, or of others for want of that. */
  readonly where: 'here' | 'elsewhere';
  readonly seasons: readonly number[];
}

export interface DayTasted {
  readonly ripeness: Ripeness;
  readonly brix: number | undefined;
  readonly eye: number | undefined;
  /** Mean score by trait, of the traits that were scored. */
  readonly scores: ReadonlyMap<string, number>;
  /** Mean of all scores; undefined without any. */
  readonly overall: number | undefined;
  /** Where it stood over all tasters; undefined where it was not ripe, or nobody put it in order. */
  readonly place: DayPlace | undefined;
  /** The scores themselves. */
  readonly given: readonly Score[];
  readonly words: readonly SaidWord[];
  readonly samples: readonly Sample[];
}

/** What some tasters said it tastes of. */
export interface SaidWord {
  /** As the ledger lists it, else as it was written first. */
  readonly word: string;
  readonly tasters: readonly Taster[];
}

/** A day with a pick or a sitting. */
export interface Day {
  readonly on: IsoDate;
  readonly season: number;
  readonly sittings: readonly Tasting[];
  readonly crops: readonly DayCrop[];
}

export interface DayCrop {
  readonly crop: Crop;
  readonly order: DayOrder | undefined;
  /** What was tasted, best first, then what was not ripe; then what was only picked. */
  readonly plates: readonly DayPlate[];
}

/** The days with a pick or a sitting, oldest first. */
export function daysOf(ledger: Ledger): readonly IsoDate[] {
  const days = ledger.seasons.flatMap(({ picks, tastings }) =>
    [...picks, ...tastings].map(({ on }) => on),
  );
  return [...new Set(days)].toSorted();
}

/** All that was picked and tasted on a day. */
export function dayOf(ledger: Ledger, on: IsoDate): Day {
  const year = seasonOf(on, ledger.trial.place.latitude);
  const season = ledger.seasons.find((one) => one.year === year);
  const sittings = (season?.tastings ?? []).filter((tasting) => tasting.on === on);
  const picks = (season?.picks ?? []).filter((pick) => pick.on === on);
  const records = cropRecords(ledgerAsOf(ledger, on)).filter((record) => record.season === year);
  return {
    on,
    season: year,
    sittings,
    crops: CROPS.flatMap((crop) => {
      const samples = sittings.flatMap((one) => one.samples).filter((one) => one.crop === crop);
      const own = picks.filter((pick) => pick.crop === crop);
      const trees = new Set([...samples, ...own].map(({ tree }) => tree));
      if (trees.size === 0) return [];
      const order = dayOrder(ledger, year, crop, on);
      const plates = [...ledger.walk]
        .filter((tree) => trees.has(tree))
        .map((tree) => {
          const tasted = tastedOf(ledger, sittings, tree, crop, order);
          return plateOf({ ledger, season, on, tree, crop, records, tasted, picks: own });
        });
      return [{ crop, order, plates: plates.toSorted(bestFirst) }];
    }),
  };
}

function plateOf({
  ledger,
  season,
  on,
  tree,
  crop,
  records,
  tasted,
  picks,
}: {
  readonly ledger: Ledger;
  readonly season: Season | undefined;
  readonly on: IsoDate;
  readonly tree: Tree;
  readonly crop: Crop;
  /** Of the season up to the day. */
  readonly records: readonly CropRecord[];
  readonly tasted: DayTasted | undefined;
  readonly picks: readonly Pick[];
}): DayPlate {
  const own = picks.filter((pick) => pick.tree === tree);
  const record = records.find((one) => one.tree === tree && one.crop === crop);
  const samples = tasted?.samples ?? [];
  return {
    tree,
    crop,
    site: siteOn(ledger, tree, on),
    picked: own.length === 0 ? undefined : pickedOf(own),
    usual: usualWeight(ledger, tree, crop, on),
    tasted,
    fruitPerBranch:
      record?.counted === true && record.branches !== undefined && record.branches > 0
        ? record.load.fruit / record.branches
        : undefined,
    left: fruitLeft(season, tree, crop, on),
    notes: [...samples, ...own].flatMap(({ note }) => note ?? []),
    photos: [...photosIn(samples, 'plate'), ...photosIn(own, 'pick')],
  };
}

function photosIn(
  entries: readonly { readonly photo: string | undefined }[],
  what: 'plate' | 'pick',
) {
  return entries.flatMap(({ photo }) => {
    const path = photo === undefined ? undefined : photoInside(photo);
    return path === undefined ? [] : [{ path, what }];
  });
}

function pickedOf(picks: readonly Pick[]): DayPicked {
  const told = picks.map(pickWeight);
  const fruit = total(told, ({ counted }) => counted.fruit);
  const best = picks.filter(({ sample }) => sample === 'best').flatMap(({ weights }) => weights);
  return {
    fruit: total(picks, (pick) => pick.fruit),
    mean: fruit === 0 ? undefined : decimalSum(told.map(({ counted }) => counted.weight)) / fruit,
    singles: told.flatMap(({ singles }) => singles),
    best: mean(best),
    defects: Object.fromEntries(
      DEFECTS.map((defect) => [defect, total(picks, ({ defects }) => defects[defect])]),
    ) as Record<Defect, number>,
  };
}

/** Mean fruit weight of the cultivar's crop in other seasons: at the same site, else anywhere. */
function usualWeight(ledger: Ledger, tree: Tree, crop: Crop, on: IsoDate): UsualWeight | undefined {
  const year = seasonOf(on, ledger.trial.place.latitude);
  const site = siteOn(ledger, tree, on);
  const others = cropRecords(ledger).filter(
    (record) =>
      record.tree.cultivar === tree.cultivar &&
      record.crop === crop &&
      record.season !== year &&
      record.weights.counted.fruit > 0,
  );
  const here = others.filter((record) => record.site === site);
  const used = here.length > 0 ? here : others;
  const usual = WEIGHT_FIGURE.of(used);
  if (usual === undefined) return undefined;
  return {
    mean: usual,
    where: here.length > 0 ? 'here' : 'elsewhere',
    seasons: [...new Set(used.map(({ season }) => season))],
  };
}

/** What one tree's fruit tasted like that day; of several plates of it those count that were ripe. */
function tastedOf(
  { trial }: Ledger,
  sittings: readonly Tasting[],
  tree: Tree,
  crop: Crop,
  order: DayOrder | undefined,
): DayTasted | undefined {
  const all = sittings
    .flatMap(({ samples }) => samples)
    .filter((sample) => sample.tree === tree && sample.crop === crop);
  const [first] = all;
  if (first === undefined) return undefined;
  const isRipe = ({ ripeness = 'ripe' }: Sample) => ripeness === 'ripe';
  const ripe = all.filter(isRipe);
  const samples = ripe.length > 0 ? ripe : all;
  const scores = sittings
    .flatMap((sitting) => sitting.scores)
    .filter(({ sample }) => samples.includes(sample));
  const over = (of: (sample: Sample) => number | undefined) =>
    mean(samples.map(of).filter((value) => value !== undefined));
  return {
    ripeness: ripe.length > 0 ? 'ripe' : (first.ripeness ?? 'ripe'),
    brix: over(({ brix }) => brix),
    eye: over(({ eye }) => eye),
    scores: new Map(
      trial.traits.flatMap((trait) => {
        const middle = mean(scores.filter((one) => one.trait === trait).map(({ value }) => value));
        return middle === undefined ? [] : [[trait, middle] as const];
      }),
    ),
    overall: mean(scores.map(({ value }) => value)),
    place: ripe.length > 0 ? order?.places.get(tree) : undefined,
    given: scores,
    words: saidOf(
      trial.words,
      sittings.flatMap(({ words }) => words).filter(({ sample }) => samples.includes(sample)),
    ),
    samples,
  };
}

/** Words by how many said them. */
function saidOf(listed: readonly string[], heard: readonly TasteWords[]): readonly SaidWord[] {
  const uses = heard.flatMap(({ taster, words }) => words.map((written) => ({ taster, written })));
  return [...groupBy(uses, ({ written }) => plainWord(written))]
    .map(([plain, own]) => ({
      word: listed.find((word) => plainWord(word) === plain) ?? own[0]?.written ?? plain,
      tasters: [...new Set(own.map(({ taster }) => taster))],
    }))
    .toSorted((a, b) => b.tasters.length - a.tasters.length);
}

/** By place, then by mean score; what was not tasted ripe stands behind what was. */
function bestFirst(a: DayPlate, b: DayPlate): number {
  return groupOf(a) - groupOf(b) || placeIn(a) - placeIn(b) || scoreOf(b) - scoreOf(a);
}

function groupOf({ tasted }: DayPlate): number {
  if (tasted === undefined) return 2;
  return tasted.ripeness === 'ripe' ? 0 : 1;
}

function placeIn({ tasted }: DayPlate): number {
  return tasted?.place?.place ?? Number.MAX_SAFE_INTEGER;
}

function scoreOf({ tasted }: DayPlate): number {
  return tasted?.overall ?? 0;
}
