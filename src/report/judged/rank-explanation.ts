import type { CropRanking } from '../../judge/index/rank.ts';
import { APART, EDGE, PRIOR_FREEDOM, PRIOR_WORTH } from '../../judge/index/simulation.ts';
import type { Likely, Moved, ShareMoved, ToldSummary } from '../../judge/index/told-summary.ts';
import { numberWord } from '../number-words.ts';
import { percent } from '../report-request.ts';
import { listed, sentence } from '../words.ts';

/** The method of the index at length, for those who ask. */
export function explanation(): readonly string[] {
  return [
    'All parts have one mixed model: value = site + sitting (or season) + taster + cultivar + cultivar in that season + cultivar at that site + tree + plate + rest. Sites and tasters are fixed effects, all else random with spreads that are drawn along (Gibbs and Metropolis steps). What a cultivar, its season, its site and its tree do to one part goes together with what they do to the others, as far as the data say so.',
    "Tasted traits are drawn as one part: the weighted mean of a taster's scores of a plate; how traits differ from one another is drawn beside it. Fruit per branch is modelled as a root, fruit weight as a logarithm, shares as an arcsine, each with its counting error; the bands put them on the scale draw by draw.",
    'A taster who only puts plates in order counts by scores drawn along between those of the plates before and behind (Albert and Chib 1993, JASA 88:669-679); tied plates have no order between them.',
    'The index is that of a tree in full bearing: of a tree planted a years before, branches count as 1 - exp(-a / pace) of a grown one, and taste lacks a part that goes with exp(-a / pace). Trees without planted in trees.yaml count as grown.',
    'The interval of the index leaves out equally many draws at either end. Ranks are counted draw by draw. New tree: one new tree of each in a new season at one of the sites, judged without error.',
    `Two cultivars have no letter in common if one is above the other in ${percent(APART)} % of the draws; they are on the edge if that share lies within ${EDGE} errors of simulation (batch means; Flegal and Jones 2010, Annals of Statistics 38:1034-1070) of the mark. In simulated trials with known truth the intervals hold what they say (src/METHODS.md).`,
    `What is taken as known beforehand: the total variance of a part, in squares of its scale, F with ${PRIOR_FREEDOM} and 3 degrees of freedom (Mulder and Pericchi 2018, Bayesian Analysis 13:1193-1214); its shares by source, of which the parts have a free centre in common, from published repeated trials (Yamada et al. 1993, HortScience 28:838; Sato et al. 2000, Scientia Horticulturae 85:75-83), worth about ${numberWord(PRIOR_WORTH)} cultivars of evidence; correlations of parts and the pace of growing up, our own guess, kept wide.`,
  ];
}

/** What was taken as known beforehand, in figures, and how far the data of each crop moved it. */
export function priorsMoved(rankings: readonly CropRanking[]): readonly string[] {
  return rankings.flatMap(({ crop, cover, told }) => {
    // Covers of a crop have their spreads in common: they are told with the first.
    const isFirst = rankings.find((one) => one.crop === crop)?.cover === cover;
    return told === undefined || !isFirst ? [] : movedOf(crop, told());
  });
}

function movedOf(crop: string, told: ToldSummary): readonly string[] {
  const parts = told.parts.map(({ part, total, scale, shares }) => {
    return `${sentence(part)}: spread ${figure(total)} (scale beforehand ${figure(scale)}); % of its variance, beforehand -> now: ${movedShares(shares)}.`;
  });
  const pairs = told.together.map(({ pair: [a, b], after }) => `${a} and ${b} ${range(after)}`);
  return [
    `The ${crop} crop rests on ${told.draws} draws. ${parts.join(' ')} What the parts have in common: ${movedShares(told.shares)}.`,
    ...(told.centre === undefined
      ? []
      : [
          `Correlation of two parts, ${crop} crop, 9 chances in 10: ${movedRange(told.centre)} in the middle of all pairs; between cultivars ${listed(pairs)}.`,
        ]),
    ...(told.pace === undefined
      ? []
      : [
          `Pace of growing up, ${crop} crop, years, 9 chances in 10: ${movedRange(told.pace)}${told.earned === undefined ? '' : `; taste that a tree of age 0 lacks, points: ${movedRange(told.earned)}`}.`,
        ]),
  ];
}

const SOURCES = {
  item: 'cultivar',
  season: 'cultivar in a season',
  site: 'cultivar at a site',
  tree: 'tree',
  plate: 'plate',
} as const;

function movedShares(shares: readonly ShareMoved[]): string {
  return shares
    .map(({ of, before, after }) => `${SOURCES[of]} ${whole(before)} -> ${whole(after)}`)
    .join(', ');
}

function movedRange({ before, after }: Moved): string {
  return `${range(before)} beforehand, ${range(after)} now`;
}

function range({ low, middle, high }: Likely): string {
  return `${figure(middle)} (${figure(low)} to ${figure(high)})`;
}

const figure = (value: number) => value.toFixed(2);
const whole = (share: number) => `${Math.round(100 * share)}`;
