import { selectRecords } from '../measure/crop-record.ts';
import { soundnessFigures } from '../measure/soundness-figures.ts';
import { weightFigures } from '../measure/weight-figures.ts';
import { fruitPerBranch } from '../measure/yield-figures.ts';
import type { Cultivar } from '../model/collection.ts';
import type { IsoDate } from '../model/dates.ts';
import type { Crop, Ledger } from '../model/ledger.ts';
import { quantile } from '../stats/describe/quantile.ts';
import { newcombeDifference } from '../stats/intervals/newcombe-difference.ts';
import { type Difference, welchDifference } from '../stats/intervals/welch-difference.ts';
import { orderSheets } from './order-sheets.ts';
import { pairChance, preferences } from './preferences.ts';
import { rankCrops } from './rank.ts';
import { scoreDifference } from './score-difference.ts';
import { scoreModels } from './score-models.ts';
import { daysDifference, type SeasonDays, seasonDays } from './season-days.ts';
import { RANK_SEED } from './simulation.ts';
import type { TastedSelection } from './tasted-scores.ts';

/** What two cultivars are held against each other by. */
export type ComparedPart =
  | { readonly kind: 'trait'; readonly trait: string }
  | { readonly kind: 'productivity' | 'size' | 'soundness' | 'ripening' | 'preference' | 'index' };

/** Why a part has no interval, or nothing to compare. */
export type NoInterval =
  | 'no figures'
  | 'not ranked'
  | 'never joined'
  | 'few scores'
  | 'one tree'
  | 'one season'
  | 'no scatter';

/** Two cultivars in one part. */
export interface Comparison {
  readonly part: ComparedPart;
  /** Absent where a cultivar has no figure; of a calendar there are `days` instead. */
  readonly a: number | undefined;
  readonly b: number | undefined;
  /** Seasons in which both were picked, where the part is ripening. */
  readonly days: readonly SeasonDays[];
  /** a - b; in days for ripening, where less is earlier. */
  readonly difference: number | undefined;
  readonly low: number | undefined;
  readonly high: number | undefined;
  readonly why: NoInterval | undefined;
  /** Which one is ahead: higher, or for ripening earlier. Neither where the interval holds 0. */
  readonly ahead: 'a' | 'b' | undefined;
}

export type Pair = readonly [a: Cultivar, b: Cultivar];

/** Ask for half a win each, as the preference table does. */
const PRIOR = 0.5;

/**
 * Two cultivars' crop part by part: each trait, fruit per branch (load / branches), mean fruit
 * weight in g, share of fruit sound, days by which half the fruit was picked, and the share of
 * orders that place the first before the second (and the other way round), ties aside.
 *
 * @param asked `confidence`: a fraction, such as 0.95; `today`: as of `recordsUnderWay`
 */
export function compareCultivars(
  ledger: Ledger,
  selection: TastedSelection,
  crop: Crop,
  pair: Pair,
  { confidence, today }: { readonly confidence: number; readonly today?: IsoDate | undefined },
): readonly Comparison[] {
  return [
    ...tastedParts(ledger, { ...selection, crops: [crop] }, pair, confidence),
    ...measuredParts(ledger, selection, crop, pair, confidence),
    ripeningPart(ledger, selection, crop, pair, { confidence, today }),
    preferencePart(ledger, { ...selection, crops: [crop] }, pair, confidence),
    indexPart(ledger, { ...selection, crops: [crop] }, pair, confidence),
  ];
}

/** The index of `rank`, whose draws belong together; what the selection leaves out is not drawn on. */
function indexPart(
  ledger: Ledger,
  { ripeness: _, cultivars: __, ...selection }: TastedSelection,
  [a, b]: Pair,
  confidence: number,
): Comparison {
  const part = { kind: 'index' } as const;
  const options = { confidence, top: 1, seed: RANK_SEED };
  const ranked = rankCrops(ledger, selection, options).flatMap((crop) => crop.ranked);
  const of = ({ key }: Cultivar) => ranked.find(({ cultivar }) => cultivar.key === key);
  const [first, second] = [of(a), of(b)];
  const figures = { a: first?.index, b: second?.index };
  if (first === undefined || second === undefined) return without(part, figures, 'not ranked');
  const apart = [...first.draws].map((value, at) => value - (second.draws[at] ?? 0));
  const tail = (1 - confidence) / 2;
  return compared(
    part,
    figures,
    {
      difference: first.index - second.index,
      se: undefined,
      low: quantile(apart, tail),
      high: quantile(apart, 1 - tail),
    },
    'no scatter',
  );
}

function tastedParts(
  ledger: Ledger,
  selection: TastedSelection,
  [a, b]: Pair,
  confidence: number,
): Comparison[] {
  const models = new Map(scoreModels(ledger, selection).map((model) => [model.trait, model]));
  return ledger.trial.traits.map((trait) => {
    const part = { kind: 'trait', trait } as const;
    const model = models.get(trait);
    const place = ({ key }: Cultivar) =>
      model?.subjects.findIndex(({ cultivar }) => cultivar.key === key) ?? -1;
    const [i, j] = [place(a), place(b)];
    const figures = { a: model?.means[i], b: model?.means[j] };
    if (model === undefined || i < 0 || j < 0) return without(part, figures, 'no figures');
    const found = scoreDifference(model, i, j, confidence);
    // Means of groups that nothing joins stand on different tasters and sittings.
    if (found === undefined) return without(part, { a: undefined, b: undefined }, 'never joined');
    return compared(
      part,
      figures,
      found,
      model.unsure === 'no spread' ? 'no scatter' : 'few scores',
    );
  });
}

function measuredParts(
  ledger: Ledger,
  selection: TastedSelection,
  crop: Crop,
  pair: Pair,
  confidence: number,
): Comparison[] {
  const [a, b] = pair.map(({ key }) =>
    selectRecords(ledger, { ...selection, crops: [crop], cultivars: [key] }),
  );
  if (a === undefined || b === undefined) return [];
  const ratios = [
    { kind: 'productivity', of: (own: typeof a) => fruitPerBranch(own, confidence) },
    {
      kind: 'size',
      of: (own: typeof a) => {
        const { mean, trees } = weightFigures(own, confidence);
        // The error of a single tree's mean is that of its fruit, and says nothing of other trees.
        return mean && (trees > 1 ? mean : { value: mean.value, se: undefined, units: trees });
      },
    },
  ] as const;
  return [
    ...ratios.map(({ kind, of }) => {
      const [first, second] = [of(a), of(b)];
      const figures = { a: first?.value, b: second?.value };
      if (first === undefined || second === undefined) {
        return without({ kind }, figures, 'no figures');
      }
      const why = first.units < 2 || second.units < 2 ? 'one tree' : 'no scatter';
      return compared({ kind }, figures, welchDifference(first, second, confidence), why);
    }),
    soundnessPart(soundnessFigures(a, confidence), soundnessFigures(b, confidence), confidence),
  ];
}

function soundnessPart(
  a: ReturnType<typeof soundnessFigures>,
  b: ReturnType<typeof soundnessFigures>,
  confidence: number,
): Comparison {
  const part = { kind: 'soundness' } as const;
  const figures = { a: a.share, b: b.share };
  const found = newcombeDifference(a.sound, a.fruit, b.sound, b.fruit, confidence);
  return found === undefined
    ? without(part, figures, 'no figures')
    : compared(part, figures, { ...found, se: undefined }, 'no figures');
}

function ripeningPart(
  ledger: Ledger,
  selection: TastedSelection,
  crop: Crop,
  [a, b]: Pair,
  { confidence, today }: { readonly confidence: number; readonly today: IsoDate | undefined },
): Comparison {
  const part = { kind: 'ripening' } as const;
  const days = seasonDays(ledger, selection, crop, [a.key, b.key], today);
  const none = { a: undefined, b: undefined };
  const found = daysDifference(days, confidence);
  if (found === undefined) return without(part, none, 'no figures');
  const one = compared(part, none, found, days.length < 2 ? 'one season' : 'no scatter');
  const earlier = one.ahead === undefined ? undefined : one.ahead === 'a' ? 'b' : 'a';
  return { ...one, days, ahead: earlier };
}

function preferencePart(
  ledger: Ledger,
  selection: TastedSelection,
  [a, b]: Pair,
  confidence: number,
): Comparison {
  const part = { kind: 'preference' } as const;
  const none = { a: undefined, b: undefined };
  const [found] = preferences(ledger, orderSheets(ledger, selection, 'orders'), PRIOR);
  const place = ({ key }: Cultivar) => found?.cultivars.findIndex((one) => one.key === key) ?? -1;
  if (found === undefined || place(a) < 0 || place(b) < 0) {
    return without(part, none, 'no figures');
  }
  const chance = pairChance(found, place(a), place(b), confidence);
  if (chance === undefined) return without(part, none, 'never joined');
  // a - b = p - (1 - p)
  const twice = (share: number | undefined) => (share === undefined ? undefined : 2 * share - 1);
  const difference = 2 * chance.chance - 1;
  const limits = { se: undefined, low: twice(chance.low), high: twice(chance.high) };
  const figures = { a: chance.chance, b: 1 - chance.chance };
  return compared(part, figures, { difference, ...limits }, 'no scatter');
}

interface Figures {
  readonly a: number | undefined;
  readonly b: number | undefined;
}

function without(part: ComparedPart, figures: Figures, why: NoInterval): Comparison {
  const nothing = { difference: undefined, low: undefined, high: undefined, ahead: undefined };
  return { part, ...figures, days: [], ...nothing, why };
}

function compared(
  part: ComparedPart,
  figures: Figures,
  { difference, low, high }: Difference,
  why: NoInterval,
): Comparison {
  const isKnown = low !== undefined && high !== undefined;
  const ahead = isKnown && low > 0 ? 'a' : isKnown && high < 0 ? 'b' : undefined;
  return {
    part,
    ...figures,
    days: [],
    difference,
    low,
    high,
    why: isKnown ? undefined : why,
    ahead,
  };
}
