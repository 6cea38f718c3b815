import { type Diagnostic, diagnose, wording } from '../diagnostics/diagnostic.ts';
import { namesInWords } from '../diagnostics/phrases.ts';
import { outrunBands } from '../measure/outrun-bands.ts';
import { EVERYTHING } from '../measure/selection.ts';
import { daysBetween, growingYear } from '../model/dates.ts';
import type { FieldEvent } from '../model/entries.ts';
import { type Ledger, MEASURED_PARTS, type MeasuredPart } from '../model/ledger.ts';
import { keyIn, spotIn } from '../source/source-file.ts';
import { quantityText } from './parts/quantity-text.ts';
import { areWhole, plantedCultivars } from './parts/whole.ts';
import { HIGH_SUMMER, hasWinter, southUnsaid } from './parts/year-parts.ts';
import type { Rule } from './rule.ts';

const bandOffScaleWords = wording<{
  part: string;
  value: number;
  low: number;
  high: number;
}>({
  rule: 'band-off-scale',
  severity: 'error',
  why: "A band leads from a measure to the ledger's scale. A point off the scale would let one part outweigh the others.",
  message: ({ part, value, low, high }) =>
    `the band of ${part} goes to ${value}, off the scale of ${low} to ${high}`,
  advice: () => 'write each point as [measure, scale], the second number on the scale',
});

export const bandOffScale: Rule = { words: [bandOffScaleWords], check: findBandOffScale };

function* findBandOffScale({ trial }: Ledger): Generator<Diagnostic> {
  const { low, high } = trial.scale;
  for (const [part, band] of trial.rank.bands) {
    for (const [index, [, value]] of band.entries()) {
      if (value >= low && value <= high) continue;
      const at = spotIn(trial.at, 'rank', 'bands', part, index, 1);
      yield diagnose(bandOffScaleWords, at, { part, value, low, high });
    }
  }
}

const bandOutrunWords = wording<{
  part: string;
  crop: string;
  side: 'below' | 'above';
  beyond: number;
  of: number;
  end: string;
  score: number;
}>({
  rule: 'band-outrun',
  severity: 'warning',
  why: 'A band is flat beyond its ends. Where nearly all cultivars lie beyond the same end they all get the same score, so the part has its weight in the rank and parts nothing. A band taken over from another fruit, or typed in another unit, shows itself like this.',
  message: ({ part, crop, side, beyond, of, end, score }) =>
    `the band of ${part} tells hardly anything apart: in the ${crop} crop ${beyond} of ${of} cultivars lie ${side} its end at ${end}, and all of these get ${score}`,
  advice: ({ part }) =>
    `say which ${part} is poor and which is good for your own fruit, and in which unit; pomary yield, weights and soundness show what there is`,
});

export const bandOutrun: Rule = { words: [bandOutrunWords], check: findBandOutrun };

function* findBandOutrun(ledger: Ledger): Generator<Diagnostic> {
  const { trial } = ledger;
  for (const { part, crop, side, beyond, of, end } of outrunBands(ledger, EVERYTHING)) {
    const [measure, score] = end;
    yield diagnose(bandOutrunWords, spotIn(trial.at, 'rank', 'bands', part), {
      part,
      crop: trial.cropNames[crop],
      side,
      beyond,
      of,
      end: measureText(ledger, part, measure),
      score,
    });
  }
}

function measureText({ trial }: Ledger, part: MeasuredPart, measure: number): string {
  if (part === 'size') return quantityText(measure, 'weight', trial.units);
  return part === 'productivity' ? `${measure} fruit per branch` : `a share of ${measure}`;
}

const bandUnusedWords = wording<{ part: string }>({
  rule: 'band-unused',
  severity: 'hint',
  why: 'A band without a weight changes nothing.',
  message: ({ part }) => `the band of ${part} is not used: ${part} has no weight in the rank`,
  advice: ({ part }) => `add ${part} to \`weights\`, or take the band out`,
});

export const bandUnused: Rule = { words: [bandUnusedWords], check: findBandUnused };

function* findBandUnused(ledger: Ledger): Generator<Diagnostic> {
  const { at, rank } = ledger.trial;
  if (!areWhole(ledger, 'ledger.yaml')) return;
  for (const part of rank.bands.keys()) {
    if (rank.weights.has(part)) continue;
    yield diagnose(bandUnusedWords, keyIn(at, 'rank', 'bands', part), { part });
  }
}

const partWithoutBandWords = wording<{ part: string; low: number; high: number }>({
  rule: 'part-without-band',
  severity: 'error',
  why: 'A measured part is brought to the tasting scale by its band before it can be weighed against scores. Where the band lies is a judgement only the grower can make.',
  message: ({ part }) => `${part} is weighted in the rank but has no band`,
  advice: ({ part, low, high }) =>
    `say which ${part} is worth ${low} and which ${high} under \`bands\`: ${part}: [[WORST, ${low}], [BEST, ${high}]], or take its weight out`,
});

export const partWithoutBand: Rule = { words: [partWithoutBandWords], check: findPartWithoutBand };

function* findPartWithoutBand(ledger: Ledger): Generator<Diagnostic> {
  const { at, rank, scale } = ledger.trial;
  if (!areWhole(ledger, 'ledger.yaml')) return;
  for (const part of MEASURED_PARTS) {
    if ((rank.weights.get(part) ?? 0) === 0 || rank.bands.has(part)) continue;
    yield diagnose(partWithoutBandWords, spotIn(at, 'rank', 'weights', part), { part, ...scale });
  }
}

const verdictLimitsWords = wording<{
  problems: readonly string[];
  low: number;
  high: number;
}>({
  rule: 'verdict-limits',
  severity: 'error',
  why: 'The verdict compares the index, which lies on the scale, with two limits. Limits off the scale or the wrong way round would increase or discard everything or nothing.',
  message: ({ problems }) => namesInWords(problems),
  advice: ({ low, high }) =>
    `give limits with ${low} <= discard_below <= increase_above <= ${high}`,
});

export const verdictLimits: Rule = { words: [verdictLimitsWords], check: findVerdictLimits };

function* findVerdictLimits({ trial }: Ledger): Generator<Diagnostic> {
  const { low, high } = trial.scale;
  const { increaseAbove, discardBelow } = trial.verdict;
  const isOff = (limit: number) => limit < low || limit > high;
  const problems: string[] = [];
  if (isOff(increaseAbove)) problems.push(`increase_above is ${increaseAbove}, off the scale`);
  if (isOff(discardBelow)) problems.push(`discard_below is ${discardBelow}, off the scale`);
  if (increaseAbove < discardBelow) {
    problems.push(`increase_above (${increaseAbove}) is less than discard_below (${discardBelow})`);
  }
  if (problems.length === 0) return;
  yield diagnose(verdictLimitsWords, spotIn(trial.at, 'verdict'), { problems, low, high });
}

const standardWithoutTreeWords = wording<{ key: string }>({
  rule: 'standard-without-tree',
  severity: 'warning',
  why: 'Ripening is told in days from the standard cultivar, which needs a tree in the trial.',
  message: ({ key }) => `the standard, ${key}, has no tree in trees.yaml`,
  advice: () => 'name a cultivar that is in the trial, or take `standard` out',
});

export const standardWithoutTree: Rule = {
  words: [standardWithoutTreeWords],
  check: findStandardWithoutTree,
};

function* findStandardWithoutTree(ledger: Ledger): Generator<Diagnostic> {
  const { standard, at } = ledger.trial;
  const planted = plantedCultivars(ledger);
  if (standard === undefined || planted === undefined || planted.has(standard)) return;
  // A standard that is no cultivar at all is told by the reader.
  if (!ledger.cultivars.has(standard)) return;
  yield diagnose(standardWithoutTreeWords, spotIn(at, 'standard'), { key: standard });
}

const frostOutsideSeasonWords = wording<{
  on: string;
  season: number;
  first: string;
  last: string;
}>({
  rule: 'frost-outside-season',
  severity: 'warning',
  why: 'The first autumn frost of a season says which fruit ripened before it. A frost of another year would put every fruit, or none, before the frost.',
  message: ({ on, season, first, last }) =>
    `the first frost of season ${season} is given as ${on}, but that season runs from ${first} to ${last}`,
  advice: () => 'correct the date or the season in front of it',
});

export const frostOutsideSeason: Rule = {
  words: [frostOutsideSeasonWords],
  check: findFrostOutsideSeason,
};

function* findFrostOutsideSeason(ledger: Ledger): Generator<Diagnostic> {
  const { trial } = ledger;
  if (trial.place.latitude === undefined && !areWhole(ledger, 'ledger.yaml')) return;
  for (const [season, on] of trial.frost) {
    const { first, last } = growingYear(season, trial.place.latitude);
    if (on >= first && on <= last) continue;
    const at = spotIn(trial.at, 'frost', String(season));
    yield diagnose(frostOutsideSeasonWords, at, { on, season, first, last });
  }
}

const frostInSummerWords = wording<{
  on: string;
  first: 'first of autumn' | undefined;
  south: string;
}>({
  rule: 'frost-in-summer',
  severity: 'warning',
  why: 'A frost in high summer is more often a slip of the date; one that is given as the first of autumn would put nearly all fruit after it (common practice, no source).',
  message: ({ on, first }) =>
    first === undefined
      ? `a frost is entered on ${on}, in high summer`
      : `the first frost of autumn is given as ${on}, before the end of high summer`,
  advice: ({ south }) => `was it another day? If it is right, leave it${south}`,
});

export const frostInSummer: Rule = { words: [frostInSummerWords], check: findFrostInSummer };

function* findFrostInSummer({ seasons, trial }: Ledger): Generator<Diagnostic> {
  const { latitude } = trial.place;
  if (!hasWinter(trial.place)) return;
  const south = southUnsaid(trial.place);
  for (const [season, on] of trial.frost) {
    const day = daysBetween(growingYear(season, latitude).first, on);
    if (day < 0 || day > HIGH_SUMMER.last) continue;
    const at = spotIn(trial.at, 'frost', String(season));
    yield diagnose(frostInSummerWords, at, { on, first: 'first of autumn', south });
  }
  for (const { year, events } of seasons) {
    const { first } = growingYear(year, latitude);
    for (const { kind, on, at } of events) {
      const day = daysBetween(first, on);
      if (kind !== 'frost' || day < HIGH_SUMMER.first || day > HIGH_SUMMER.last) continue;
      yield diagnose(frostInSummerWords, spotIn(at, 'on'), { on, first: undefined, south });
    }
  }
}

const frostMildWords = wording<{ on: string }>({
  rule: 'frost-mild',
  severity: 'warning',
  why: 'On the ground it freezes while the air above has up to some 4 degC (common practice, no source); a frost with more has lost its minus or its unit.',
  message: ({ on }) => `the lowest temperature of the frost on ${on} is well above freezing`,
  advice: () =>
    'is the minus missing, or was it the other scale? That is written "28 degF" or "-2 degC"',
});

export const frostMild: Rule = { words: [frostMildWords], check: findFrostMild };

/** degC */
const MILDEST_FROST = 4;

function* findFrostMild({ seasons }: Ledger): Generator<Diagnostic> {
  for (const { events } of seasons) {
    for (const event of events) {
      if (event.kind !== 'frost' || (event.low ?? 0) <= MILDEST_FROST) continue;
      yield diagnose(frostMildWords, spotIn(event.at, 'low'), { on: event.on });
    }
  }
}

const frostUnsaidWords = wording<{ on: string; season: number }>({
  rule: 'frost-unsaid',
  severity: 'hint',
  why: 'Of frosts that are entered nobody knows which was the first of autumn, so the share picked before it rests on frost: in ledger.yaml alone. It is asked for from the end of high summer on.',
  message: ({ on, season }) =>
    `a frost is entered on ${on}, and ledger.yaml does not say which was the first of autumn in ${season}`,
  advice: ({ on, season }) =>
    `if it was this one, add ${season}: ${on} below frost: in ledger.yaml`,
});

export const frostUnsaid: Rule = { words: [frostUnsaidWords], check: findFrostUnsaid };

function* findFrostUnsaid({ seasons, trial }: Ledger): Generator<Diagnostic> {
  for (const { year, events } of seasons) {
    if (trial.frost.has(year)) continue;
    const { first } = growingYear(year, trial.place.latitude);
    let autumn: FieldEvent | undefined;
    for (const event of events) {
      if (event.kind !== 'frost' || daysBetween(first, event.on) <= HIGH_SUMMER.last) continue;
      if (autumn === undefined || event.on < autumn.on) autumn = event;
    }
    if (autumn === undefined) continue;
    yield diagnose(frostUnsaidWords, autumn.at, { on: autumn.on, season: year });
  }
}
