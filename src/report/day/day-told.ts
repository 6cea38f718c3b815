import type { DayCrop, DayPicked, DayPlate } from '../../judge/day.ts';
import type { DayOrder } from '../../judge/day-order.ts';
import { rankCrops } from '../../judge/index/rank.ts';
import { RANK_SEED } from '../../judge/index/simulation.ts';
import { ledgerAsOf } from '../../judge/ledger-as-of.ts';
import type { Cultivar } from '../../model/collection.ts';
import { growingYear } from '../../model/dates.ts';
import { DEFECTS, type Defect, type Ripeness, type Taster } from '../../model/entries.ts';
import { COVER_WORDS, type Crop, type Ledger } from '../../model/ledger.ts';
import type { JsonValue } from '../document.ts';
import { cultivarName, siteName } from '../names.ts';
import { decimalText } from '../number-words.ts';
import { counted, listed, sentence } from '../words.ts';

/** How tasters are told: by name, or by their number. */
export type TasterNaming = 'names' | 'number';

export const RIPENESS_WORDS: Readonly<Record<Ripeness, string>> = {
  under: 'underripe',
  ripe: 'ripe',
  over: 'overripe',
};

/** "Y6, south wall, ripe". */
export function plateAside(ledger: Ledger, { tree, site, tasted }: DayPlate): string {
  const parts = [tree.id, siteName(ledger, site)];
  return [...parts, ...(tasted === undefined ? [] : [RIPENESS_WORDS[tasted.ripeness]])].join(', ');
}

/** "4 picked, 62 g each (54 to 71); 58 g in other years. Sound." */
export function pickedWords({ picked, usual }: DayPlate): string {
  const usually =
    usual === undefined
      ? ''
      : `${decimalText(usual.mean, 0)} g in other years${usual.where === 'here' ? '' : ', at other sites'}`;
  if (picked === undefined) {
    return usually === '' ? '' : sentence(`${usually}.`);
  }
  const weight = weightWords(picked);
  const size = [weight, usually].filter((part) => part !== '').join('; ');
  return `${picked.fruit} picked${size === '' ? '' : `, ${size}`}. ${spoiledWords(picked)}`;
}

function weightWords({ mean, singles, best }: DayPicked): string {
  if (mean === undefined)
    return best === undefined ? '' : `the best ones ${decimalText(best, 0)} g`;
  const [least, most] = [Math.min(...singles), Math.max(...singles)];
  const [low, high] = [decimalText(least, 0), decimalText(most, 0)];
  const span = singles.length > 1 && low !== high ? ` (${low} to ${high})` : '';
  return `${decimalText(mean, 0)} g each${span}`;
}

const SPOILED: Readonly<Record<Defect, (fruit: number) => string>> = {
  split: (fruit) => `${fruit} split`,
  bird: (fruit) => `${fruit} pecked by birds`,
  insect: (fruit) => `${fruit} got at by insects`,
  animal: (fruit) => `${fruit} gnawed by animals`,
  mould: (fruit) => `${fruit} mouldy`,
  unripe: (fruit) => `${fruit} not ripe`,
};

function spoiledWords({ fruit, defects }: DayPicked): string {
  const spoiled = DEFECTS.flatMap((defect) =>
    defects[defect] === 0 ? [] : [SPOILED[defect](defects[defect])],
  );
  if (spoiled.length > 0) return sentence(`${listed(spoiled)}.`);
  if (fruit === 0) return '';
  return fruit === 1 ? 'Sound.' : 'All sound.';
}

/** "First for Mara, Joss and Odo." */
export function firstWords(
  { tasted }: DayPlate,
  order: DayOrder | undefined,
  naming: TasterNaming,
): string {
  const place = tasted?.place;
  if (place === undefined || order === undefined || place.firstFor.length === 0) return '';
  const { firstFor, aloneFor } = place;
  const level = firstFor.filter((taster) => !aloneFor.includes(taster));
  const all = order.tasters.length;
  const who = (tasters: readonly Taster[]) =>
    tasters.length === all && all > 1
      ? all === 2
        ? 'both tasters'
        : `all ${all} tasters`
      : tasterWords(tasters, naming);
  const parts = [
    aloneFor.length === 0 ? '' : `first for ${who(aloneFor)}`,
    level.length === 0 ? '' : `level with another for first for ${who(level)}`,
  ].filter((part) => part !== '');
  return sentence(`${parts.join('; ')}.`);
}

/** Names, or "2 tasters". */
export function tasterWords(tasters: readonly Taster[], naming: TasterNaming): string {
  return naming === 'names'
    ? listed(
        tasters.map(({ name }) => name),
        12,
      )
    : counted(tasters.length, 'taster');
}

/** "1st of 8 last year, 2nd of 10 now (likely 1st to 4th)."; empty where it was never ranked. */
export function standingWords(
  last: Standing | undefined,
  now: Standing | undefined,
  hasLast: boolean,
): string {
  const before = last === undefined ? 'not ranked' : `${ordinal(last.rank)} of ${last.of}`;
  const after =
    now === undefined
      ? 'not ranked now'
      : `${ordinal(now.rank)} of ${now.of} now${likelyWords(now)}`;
  if (last === undefined && now === undefined) return '';
  return sentence(hasLast ? `${before} last year, ${after}.` : `${after}.`);
}

function likelyWords({ rankLow, rankHigh }: Standing): string {
  return rankLow === rankHigh ? '' : ` (likely ${ordinal(rankLow)} to ${ordinal(rankHigh)})`;
}

/** "1st", "22nd", "113th". */
function ordinal(place: number): string {
  const tens = place % 100;
  const ones = tens > 10 && tens < 14 ? 0 : place % 10;
  return `${place}${['th', 'st', 'nd', 'rd'][ones] ?? 'th'}`;
}

/** "1.9 fruit to a branch this year; about 14 still hanging." */
export function hangingWords({ fruitPerBranch, left }: DayPlate): string {
  const parts = [
    fruitPerBranch === undefined ? '' : `${decimalText(fruitPerBranch, 1)} fruit to a branch`,
    left === undefined
      ? ''
      : left <= 0
        ? 'none left to pick, by the count'
        : `about ${left} still hanging`,
  ].filter((part) => part !== '');
  return parts.length === 0 ? '' : sentence(`${parts.join('; ')}.`);
}

/** Chance below which agreement is called more than luck: common practice, no source. */
const LUCK = 0.05;
/** Common practice, no source: W from here on is called good agreement. */
const STRONG = 0.7;

/** Whether the order of the day can be told from chance, in a sentence. */
export function agreementWords(order: DayOrder): string {
  const { agreement, tasters } = order;
  if (tasters.length < 2) return 'One taster, so there is nobody to check this order by.';
  if (agreement === undefined) {
    return 'No two tasters put the same plates apart, so luck may have made this order.';
  }
  const { w, chance } = agreement;
  const who = agreement.tasters === 2 ? 'The two tasters' : `The ${agreement.tasters} tasters`;
  const odds = `chance alone would do as much ${oddsWords(chance)}`;
  if (chance < LUCK) {
    return `${who} ${w >= STRONG ? 'agreed well' : 'agreed in part'}: ${odds}.`;
  }
  return w >= STRONG
    ? `${who} agreed, but with so few plates and tasters ${odds}.`
    : `${who} did not clearly agree: ${odds}.`;
}

/** "1 time in 24". */
function oddsWords(chance: number): string {
  if (chance > 0.4) return chance > 0.6 ? 'more often than not' : 'about half the time';
  if (chance < 0.001) return 'less than 1 time in 1000';
  const times = 1 / chance;
  return `1 time in ${times < 100 ? Math.round(times) : 10 * Math.round(times / 10)}`;
}

/** "Ferry Bell, Amber Lantern and Tidewrack Brown level, Salt Parson." */
export function orderWords(ledger: Ledger, plates: readonly DayPlate[]): string {
  const placed = plates.filter(({ tasted }) => tasted?.place !== undefined);
  const places = [...new Set(placed.map(({ tasted }) => tasted?.place?.place))];
  const steps = places.map((place) => {
    const level = placed.filter(({ tasted }) => tasted?.place?.place === place);
    const names = listed(
      level.map((plate) => plateName(ledger, plate, placed)),
      12,
    );
    return level.length > 1 ? `${names} level` : names;
  });
  return `${steps.join(', ')}.`;
}

/** The cultivar, and the tree too where the day had two of it. */
export function plateName(ledger: Ledger, { tree }: DayPlate, among: readonly DayPlate[]): string {
  const name = cultivarName(ledger, tree.cultivar);
  const isShared = among.some((one) => one.tree !== tree && one.tree.cultivar === tree.cultivar);
  return isShared ? `${name} (${tree.id})` : name;
}

/** "In the open, in the ground, planted 2020." */
export function growingWords(
  ledger: Ledger,
  { tree, site }: DayPlate,
  container: string | undefined,
): string {
  const cover = ledger.trial.sites.get(site)?.cover;
  const since = tree.planted ?? tree.received;
  const age = `${tree.planted === undefined ? 'here since' : 'planted'} ${since?.text.slice(0, 4)}`;
  const parts = [
    cover === undefined ? '' : COVER_WORDS[cover],
    container ?? '',
    since === undefined ? '' : age,
  ].filter((part) => part !== '');
  return parts.length === 0 ? '' : sentence(`${parts.join(', ')}.`);
}

/** Where a cultivar's crop stands by the index, and where it may truly stand. */
interface Standing {
  readonly rank: number;
  readonly rankLow: number;
  readonly rankHigh: number;
  /** How many are ranked. */
  readonly of: number;
}

/** Looks up where a cultivar stands; undefined where it cannot be ranked. */
export type Standings = (crop: Crop, cultivar: Cultivar) => Standing | undefined;

/** By all entries, as `pomary rank` has it. */
export function standingsNow(
  ledger: Ledger,
  crops: readonly Crop[],
  confidence: number,
): Standings {
  const ranked = rankCrops(ledger, { crops }, { confidence, top: 3, seed: RANK_SEED });
  return (crop, cultivar) => {
    const own = ranked.find((one) => one.crop === crop)?.ranked ?? [];
    const found = own.find((one) => one.cultivar === cultivar);
    // One alone has nothing to be before or behind.
    if (found === undefined || own.length < 2) return undefined;
    const { rank, rankLow, rankHigh } = found;
    return { rank, rankLow, rankHigh, of: own.length };
  };
}

/** By the entries of the seasons before; undefined where there are none. */
export function standingsBefore(
  ledger: Ledger,
  season: number,
  crops: readonly Crop[],
  confidence: number,
): Standings | undefined {
  if (!ledger.seasons.some(({ year }) => year < season)) return undefined;
  const { last } = growingYear(season - 1, ledger.trial.place.latitude);
  return standingsNow(ledgerAsOf(ledger, last), crops, confidence);
}

interface Told {
  readonly ledger: Ledger;
  readonly naming: TasterNaming;
  readonly now: Standings;
  readonly before: Standings | undefined;
}

/** A crop of a day for machines: weights in g, figures unrounded, null where there is none. */
export function cropSaid(told: Told, { order, plates }: DayCrop): JsonValue {
  return {
    tasters: order?.tasters.length ?? 0,
    agreement: order?.agreement === undefined ? null : { ...order.agreement },
    plates: plates.map((plate) => plateSaid(told, plate)),
  };
}

function plateSaid({ ledger, naming, now, before }: Told, plate: DayPlate): JsonValue {
  const { tree, crop, site, picked, usual, tasted } = plate;
  const who = (tasters: readonly { readonly name: string }[]): JsonValue =>
    naming === 'names' ? tasters.map(({ name }) => name) : tasters.length;
  const singles = picked?.singles ?? [];
  return {
    tree: tree.id,
    cultivar: cultivarName(ledger, tree.cultivar),
    cultivarKey: tree.cultivar.key,
    site,
    place: tasted?.place?.place ?? null,
    firstFor: tasted?.place === undefined ? null : who(tasted.place.firstFor),
    picked: picked?.fruit ?? null,
    meanWeight: picked?.mean ?? null,
    lightest: singles.length === 0 ? null : Math.min(...singles),
    heaviest: singles.length === 0 ? null : Math.max(...singles),
    usualWeight: usual?.mean ?? null,
    usualFrom: usual === undefined ? null : { where: usual.where, seasons: usual.seasons },
    defects: picked === undefined ? null : { ...picked.defects },
    ripeness: tasted?.ripeness ?? null,
    brix: tasted?.brix ?? null,
    eye: tasted?.eye ?? null,
    scores: tasted === undefined ? null : Object.fromEntries(tasted.scores),
    words: (tasted?.words ?? []).map(({ word, tasters }) => ({ word, tasters: who(tasters) })),
    notes: plate.notes,
    photos: plate.photos.map(({ path }) => path),
    fruitPerBranch: plate.fruitPerBranch ?? null,
    left: plate.left ?? null,
    lastYear: standingSaid(before?.(crop, tree.cultivar)),
    now: standingSaid(now(crop, tree.cultivar)),
  };
}

function standingSaid(standing: Standing | undefined): JsonValue {
  return standing === undefined ? null : { ...standing };
}
