import { groupBy } from '../measure/group-by.ts';
import type { Cultivar } from '../model/collection.ts';
import type { IsoDate } from '../model/dates.ts';
import type { Sample, Tasting } from '../model/entries.ts';
import type { Crop, Ledger } from '../model/ledger.ts';
import { mean } from '../stats/describe/mean.ts';
import { additiveFit } from '../stats/linear/additive-fit.ts';
import { reml } from '../stats/mixed/reml.ts';
import { sum } from '../stats/numbers/sum.ts';
import { isMeasured, weighedParts } from './gather-trial.ts';
import { tastedScores } from './tasted-scores.ts';

/** What tastings say so far of every cultivar's crop, on the ledger's scale. */
export interface Standings {
  /** Every cultivar of the ledger; the lists below follow its order. */
  readonly cultivars: readonly Cultivar[];
  /** Best guess of the weighted mean of its traits; that of all cultivars for one never tasted. */
  readonly mean: readonly number[];
  /** Standard deviation of the truth about that guess. */
  readonly sd: readonly number[];
  /** Sittings at which it was tasted ripe. */
  readonly tastings: readonly number[];
  /** How much two plates of a cultivar differ at one sitting, tasters apart: a variance. */
  readonly plateVariance: number;
  /** How much two tasters differ on one plate beyond their habits: a variance. */
  readonly tasterVariance: number;
  /** `assumed` where there are too few scores to tell the variances. */
  readonly basis: 'scores' | 'assumed';
}

/**
 * Where each cultivar's crop stands by fruit tasted ripe up to a day.
 *
 * A score is the weighted mean of the traits that the ledger weighs (all alike if it weighs none);
 * a taster's sheet that lacks one of them for a plate is left out. First tasters are evened out: by
 * least squares, score = plate + taster. Then plate = cultivar + sitting + rest with cultivars and
 * sittings as random effects, variances by REML: the plate is the unit, since tasters who share one
 * share its luck. Cultivars are drawn to the mean of all as far as their plates are few (Robinson
 * 1991, Statistical Science 6:15-32); one never tasted stands there, with the whole spread between
 * cultivars as its doubt.
 */
export function tastedStandings(ledger: Ledger, crop: Crop, upTo: IsoDate): Standings {
  const cultivars = [...ledger.cultivars.values()];
  const sheets = sheetsOf(ledger, crop, upTo);
  const plates = platesOf(sheets, cultivars);
  const { low, high } = ledger.trial.scale;
  const assumed = assumedSpread(high - low);
  const { rest, ...found } = standingsBySpread(plates, cultivars.length, high - low) ?? {
    ...shrunk(plates, cultivars.length, (low + high) / 2, assumed),
    rest: assumed.plate + assumed.taster * plates.perTaster,
    basis: 'assumed' as const,
  };
  const tasterVariance = plates.tasterVariance ?? Math.min(assumed.taster, rest);
  return {
    cultivars,
    ...found,
    plateVariance: Math.max(0, rest - tasterVariance * plates.perTaster),
    tasterVariance,
    tastings: cultivars.map(
      (cultivar) =>
        new Set(
          sheets
            .filter(({ sample }) => sample.tree.cultivar === cultivar)
            .map(({ tasting }) => tasting),
        ).size,
    ),
  };
}

/**
 * Variance of what some tasters together say of one plate, their habits and the sitting apart.
 *
 * @param tasters how many, 1 or more
 */
export function sittingVariance(
  { plateVariance, tasterVariance }: Standings,
  tasters: number,
): number {
  return plateVariance + tasterVariance / tasters;
}

/** One taster's scores of one plate as a single score. */
interface Sheet {
  readonly tasting: Tasting;
  readonly sample: Sample;
  readonly taster: string;
  readonly score: number;
}

/** Traits with their weights; all alike where the ledger weighs none. */
export function weighedTraits(ledger: Ledger): readonly (readonly [string, number])[] {
  const weighed = weighedParts(ledger).filter(
    ([part]) => !isMeasured(part) && ledger.trial.traits.includes(part),
  );
  return weighed.length > 0 ? weighed : ledger.trial.traits.map((trait) => [trait, 1] as const);
}

function sheetsOf(ledger: Ledger, crop: Crop, upTo: IsoDate): Sheet[] {
  const traits = weighedTraits(ledger);
  const weight = sum(traits.map(([, own]) => own));
  const scores = tastedScores(ledger, { crops: [crop] }).filter(
    ({ tasting }) => tasting.on <= upTo,
  );
  return [...groupBy(scores, ({ score }) => score.sample)].flatMap(([sample, own]) =>
    [...groupBy(own, ({ score }) => score.taster.key)].flatMap(([taster, given]) => {
      const values = traits.map(([trait]) => given.find(({ score }) => score.trait === trait));
      const [first] = given;
      if (first === undefined || values.includes(undefined)) return [];
      const weighted = traits.map(([, times], at) => times * (values[at]?.score.value ?? 0));
      return [{ tasting: first.tasting, sample, taster, score: sum(weighted) / weight }];
    }),
  );
}

interface Plates {
  /** Mean of each plate with tasters evened out. */
  readonly y: readonly number[];
  /** By plate: index of its cultivar, and of its sitting. */
  readonly cultivar: readonly number[];
  readonly sitting: readonly number[];
  readonly sittings: number;
  /** Variance of what two tasters say of one plate beyond their habits, where it can be told. */
  readonly tasterVariance: number | undefined;
  /** Mean of 1 / tasters over the plates. */
  readonly perTaster: number;
}

function platesOf(sheets: readonly Sheet[], cultivars: readonly Cultivar[]): Plates {
  const samples = [...new Set(sheets.map(({ sample }) => sample))];
  const tasters = [...new Set(sheets.map(({ taster }) => taster))];
  const tastings = [...new Set(sheets.map(({ tasting }) => tasting))];
  const perPlate = groupBy(sheets, ({ sample }) => sample);
  const plates = samples.map((sample) => perPlate.get(sample) ?? []);
  const places = new Map(cultivars.map((cultivar, at) => [cultivar, at]));
  const evened = evenedOut(sheets, samples, tasters);
  return {
    ...evened,
    cultivar: samples.map(({ tree }) => places.get(tree.cultivar) ?? 0),
    sitting: plates.map(([first]) => (first === undefined ? 0 : tastings.indexOf(first.tasting))),
    sittings: tastings.length,
    perTaster: mean(plates.map((own) => 1 / own.length)) ?? 0,
  };
}

function evenedOut(
  sheets: readonly Sheet[],
  samples: readonly Sample[],
  tasters: readonly string[],
): Pick<Plates, 'y' | 'tasterVariance'> {
  if (sheets.length === 0) return { y: [], tasterVariance: undefined };
  const plateOf = new Map(samples.map((sample, at) => [sample, at]));
  const fit = additiveFit(
    sheets.map(({ score }) => score),
    [
      { levels: sheets.map(({ sample }) => plateOf.get(sample) ?? 0), count: samples.length },
      { levels: sheets.map(({ taster }) => tasters.indexOf(taster)), count: tasters.length },
    ],
  );
  const effect = (factor: number, level: number) =>
    fit.effects[(fit.layout.offsets[factor] ?? 0) + level] ?? 0;
  const ofTasters = mean(sheets.map(({ taster }) => effect(1, tasters.indexOf(taster)))) ?? 0;
  return {
    y: samples.map((_, plate) => effect(0, plate) + ofTasters),
    tasterVariance: fit.df > 0 ? fit.residualSumOfSquares / fit.df : undefined,
  };
}

type Found = Pick<Standings, 'mean' | 'sd' | 'basis'> & {
  /** Variance of plate means beyond cultivar and sitting. */
  readonly rest: number;
};

function standingsBySpread(plates: Plates, cultivars: number, range: number): Found | undefined {
  const { y } = plates;
  if (y.length < FEWEST_PLATES) return undefined;
  const byCultivar = { levels: plates.cultivar, count: cultivars };
  const bySitting = { levels: plates.sitting, count: plates.sittings };
  const input = { y, fixed: y.map(() => [1]) };
  const fit =
    reml({ ...input, random: [byCultivar, bySitting] }) ?? reml({ ...input, random: [byCultivar] });
  const centre = fit?.fixed.estimates[0];
  if (fit === undefined || !fit.converged || centre === undefined) return undefined;
  const between = fit.variances[0] ?? 0;
  const least = (range * LEAST_SPREAD) ** 2;
  const known =
    between >= least
      ? {
          mean: (fit.blups[0] ?? []).map((blup) => centre + blup),
          sd: fit.blupSe[0] ?? [],
        }
      : shrunk(plates, cultivars, centre, { cultivar: least, plate: fit.residual });
  return { ...known, rest: fit.residual, basis: 'scores' };
}

/** Of fewer, no spread can be told. */
const FEWEST_PLATES = 3;

/** Cultivars are never taken to be all alike: this share of the scale is their least spread. */
const LEAST_SPREAD = 1 / 30;

/** Variances where there are too few scores to tell them; our own guess, no source. */
function assumedSpread(range: number) {
  return { cultivar: (range / 6) ** 2, plate: (range / 9) ** 2, taster: (range / 9) ** 2 };
}

/** Plain means drawn to the centre as far as plates are few, with the variances taken as known. */
function shrunk(
  { y, cultivar }: Plates,
  cultivars: number,
  centre: number,
  spread: { readonly cultivar: number; readonly plate: number },
): Pick<Standings, 'mean' | 'sd'> {
  const all = mean(y) ?? centre;
  const parts = Array.from({ length: cultivars }, (_, at) => {
    const own = y.filter((_value, plate) => cultivar[plate] === at);
    const trust = spread.cultivar / (spread.cultivar + spread.plate / Math.max(own.length, 1e-9));
    return {
      mean: all + (own.length === 0 ? 0 : trust) * ((mean(own) ?? all) - all),
      sd: Math.sqrt(spread.cultivar * (own.length === 0 ? 1 : 1 - trust)),
    };
  });
  return { mean: parts.map((one) => one.mean), sd: parts.map((one) => one.sd) };
}
