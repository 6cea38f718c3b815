import { isMeasured, weighedParts } from '../../judge/index/gather-trial.ts';
import type { CropRanking, Ranked, Unranked } from '../../judge/index/rank.ts';
import { RANK_SEED } from '../../judge/index/simulation.ts';
import { groupBy } from '../../measure/group-by.ts';
import type { Cultivar } from '../../model/collection.ts';
import { COVER_WORDS, type Ledger, type MeasuredPart } from '../../model/ledger.ts';
import { note, shownNote } from '../common-notes.ts';
import { cropPhrase, placePhrase } from '../crop-words.ts';
import { cultivarName, siteName } from '../names.ts';
import { inTenths } from '../number-words.ts';
import type { ReportRequest } from '../report-request.ts';
import type { Note } from '../table.ts';
import { counted, listed, sentence } from '../words.ts';
import { bandNotes, youngNote } from './model-notes.ts';
import { explanation, priorsMoved } from './rank-explanation.ts';
export interface RankRequest extends ReportRequest {
  /** Of the simulated draws; the same seed gives the same table. */
  readonly seed?: number | undefined;
  /** Whether what stands under glass and what stands in the open is judged apart, each by all that was seen. */
  readonly byCover?: boolean | undefined;
  /** As of `RankOptions`. */
  readonly bothWays?: boolean | undefined;
}

/** One cultivar alone has an index, but no place: there is nothing to be before or behind. */
export function isAlone(rankings: readonly CropRanking[], of: Place): boolean {
  return rankings.find((one) => isSamePlace(one, of))?.ranked.length === 1;
}

/** Within which ranks are counted. */
type Place = Pick<CropRanking, 'crop' | 'cover'>;

function isSamePlace(a: Place, b: Place): boolean {
  return a.crop === b.crop && a.cover === b.cover;
}

/** Why a cultivar that is judged by itself has no rank. */
export const ALONE = 'no other could be judged beside it';

const MISSING: Readonly<Record<MeasuredPart, string>> = {
  productivity: 'branches not counted',
  size: 'no fruit weighed',
  soundness: 'no fruit picked',
  ripened: 'first frost not known',
};

/** Why there is no rank, in a few words. */
export function whyNot(ledger: Ledger, { lacks }: Pick<Unranked, 'lacks'>): string {
  const traits = weighedParts(ledger).filter(([part]) => !isMeasured(part));
  const untasted = lacks.filter((part) => !isMeasured(part));
  const tasted =
    untasted.length === 0
      ? []
      : [
          untasted.length === traits.length
            ? 'not tasted ripe'
            : `no score for ${listed(untasted)}`,
        ];
  // Where nothing was picked, nothing could be weighed either: one reason is enough.
  const measured = lacks
    .filter(isMeasured)
    .filter((part) => part !== 'size' || !lacks.includes('soundness'))
    .map((part) => MISSING[part]);
  return [...tasted, ...measured].join('; ') || 'no weights in ledger.yaml';
}

/** What the table rests on, who leads, and what stands in the way of ranking the rest. */
export function rankNotes(
  ledger: Ledger,
  request: RankRequest,
  rankings: readonly CropRanking[],
  all: readonly CropRanking[],
): readonly (Note | undefined)[] {
  const parts = weighedParts(ledger);
  if (parts.length === 0) {
    return [
      shownNote('evidence', 'ledger.yaml weighs nothing: add rank: { weights: ... } to rank by.'),
    ];
  }
  const words = parts.map(([part, weight]) => `${part} ${weight}`).join(', ');
  const { low, high } = ledger.trial.scale;
  return [
    note('method', `Index: weighted mean on the scale of ${low} to ${high}; weights: ${words}.`),
    note(
      'method',
      `Harsh tasters, poor evenings and odd years are allowed for, and thin evidence is drawn towards the middle; letters: cultivars that share one cannot be told apart. Simulated with seed ${request.seed ?? RANK_SEED}; --explain tells how.`,
    ),
    ...(request.explain === true
      ? [...explanation(), ...priorsMoved(rankings)].map((text) => note('method', text))
      : []),
    ...all
      .filter((ranking) => rankings.some((one) => isSamePlace(one, ranking)))
      .map((ranking) => leadNote(ledger, ranking, rankings.length > 1)),
    ...rankings.map((ranking) => edgeNote(ledger, ranking)),
    unrankedNote(ledger, rankings),
    aloneNote(ledger, rankings, all),
    pickedNote(request),
    youngNote(
      ledger,
      rankings.flatMap(({ ranked }) => ranked),
    ),
    oneTreeNote(rankings),
    ...rankings.flatMap((ranking) => [unseenNote(ledger, ranking), borrowedNote(ledger, ranking)]),
    ...rankings
      .filter(({ crop, cover }) => rankings.find((one) => one.crop === crop)?.cover === cover)
      .map((ranking) => sitesNote(ledger, ranking)),
    ...bandNotes(ledger, request.selection),
  ];
}

/** Who is first, as chances a grower can picture. */
function leadNote(
  ledger: Ledger,
  { ranked, ...place }: CropRanking,
  isOneOfSeveral: boolean,
): Note | undefined {
  const [leader] = ranked;
  if (leader === undefined || ranked.length < 2) return undefined;
  const byChance = ranked
    .filter(({ firstShare }) => firstShare >= 0.05)
    .toSorted((a, b) => b.firstShare - a.firstShare)
    .slice(0, 3);
  const chances = byChance.map(
    ({ cultivar, firstShare }, at) =>
      `${cultivarName(ledger, cultivar)} ${Math.round(100 * firstShare)}${at === 0 ? ' in 100' : ''}`,
  );
  const rivals = ranked.filter((one) => one !== leader && shareLetter(one, leader));
  const verdict =
    rivals.length === 0
      ? 'No other can be put beside it.'
      : `${rivals.length === 1 ? 'One other' : `${rivals.length} others`} cannot be told apart from ${cultivarName(ledger, leader.cultivar)}.`;
  return shownNote(
    'evidence',
    `The ${placePhrase(ledger, place)}, given all that was seen, the chance to be truly the best: ${listed(chances)}. ${verdict}`,
    leadWords(ledger, ranked, isOneOfSeveral ? place : undefined),
  );
}

/** Truly the best, and who might be it instead, in a line or two; of one of several crops, in one. */
function leadWords(ledger: Ledger, ranked: readonly Ranked[], place: Place | undefined): string {
  const name = ({ cultivar }: Ranked) => cultivarName(ledger, cultivar);
  const [leader] = ranked;
  const best = ranked.reduce((one, other) => (other.firstShare > one.firstShare ? other : one));
  const rivals = ranked.filter((one) => one !== leader && shareLetter(one, leader));
  const chance = `${name(best)}, ${inTenths(best.firstShare)}`;
  if (place !== undefined) {
    const others =
      rivals.length === 0 ? 'no other comes near' : `${rivals.length} too close to tell`;
    return `Best of the ${placePhrase(ledger, place)}: ${chance}; ${others}.`;
  }
  const likeliest = best.firstShare < 0.5 ? 'Likeliest the best' : 'Truly the best';
  if (rivals.length === 0) return `${likeliest}: ${chance}. No other comes near it.`;
  const it = best === leader || leader === undefined ? 'it' : name(leader);
  return `${likeliest}: ${chance}. Too close to ${it} to tell: ${listed(rivals.map(name), 4)}.`;
}

function shareLetter(one: Ranked, other: Ranked | undefined): boolean {
  return [...one.letters].some((letter) => other?.letters.includes(letter) === true);
}

/** As many pairs are named; more would be a list that nobody reads. */
const PAIRS_NAMED = 3;

/** Pairs that another seed might part or join. */
function edgeNote(ledger: Ledger, { ranked, ...place }: CropRanking): Note | undefined {
  const pairs = edgePairs(ranked);
  if (pairs.length === 0) return undefined;
  const named = pairs
    .slice(0, PAIRS_NAMED)
    .map((pair) => pair.map((cultivar) => cultivarName(ledger, cultivar)).join(' and '));
  const more = pairs.length - named.length;
  const rest = more > 0 ? `; ${counted(more, 'more pair')}` : '';
  return note(
    'evidence',
    `On the edge of being told apart in the ${placePhrase(ledger, place)}: ${named.join('; ')}${rest}.`,
  );
}

function edgePairs(ranked: readonly Ranked[]): (readonly [Cultivar, Cultivar])[] {
  return ranked.flatMap((one, at) =>
    ranked
      .slice(at + 1)
      .filter(({ cultivar }) => one.onEdgeWith.includes(cultivar))
      .map(({ cultivar }): readonly [Cultivar, Cultivar] => [one.cultivar, cultivar]),
  );
}

function aloneNote(
  ledger: Ledger,
  rankings: readonly CropRanking[],
  all: readonly CropRanking[],
): Note | undefined {
  const alone = rankings
    .filter((one) => one.ranked.length > 0 && isAlone(all, one))
    .flatMap(({ ranked, ...place }) =>
      ranked.map(
        ({ cultivar }) => `${cultivarName(ledger, cultivar)}, ${placePhrase(ledger, place)}`,
      ),
    );
  return alone.length === 0
    ? undefined
    : shownNote('evidence', `No rank for ${listed(alone)}: ${ALONE}.`);
}

function pickedNote({ selection }: RankRequest): Note | undefined {
  return selection.cultivars?.length
    ? shownNote(
        'method',
        'Rank, index, letters and chances are those among all cultivars.',
        'Rank and chances are those among all cultivars.',
      )
    : undefined;
}

function oneTreeNote(rankings: readonly CropRanking[]): Note | undefined {
  const single = rankings.flatMap(({ ranked }) => ranked.filter(({ trees }) => trees === 1));
  if (single.length === 0) return undefined;
  return shownNote(
    'evidence',
    `${single.length === 1 ? '1 row rests' : `${single.length} rows rest`} on one tree; how far trees of a cultivar differ is borrowed from the others.`,
    `${counted(single.length, 'row rests', 'rows rest')} on a single tree.`,
  );
}

function unrankedNote(ledger: Ledger, rankings: readonly CropRanking[]): Note | undefined {
  const told = rankings.flatMap((ranking) => {
    const byReason = groupBy(ranking.unranked, (one) => whyNot(ledger, one));
    const isOnly = rankings.length === 1;
    return [...byReason].map(([why, those]) => `${whoOf(ledger, ranking, those, isOnly)} (${why})`);
  });
  if (told.length === 0) return undefined;
  const out = new Set(rankings.filter(({ ranked }) => ranked.length === 0).map(wayOut));
  return shownNote('evidence', [`Not ranked: ${told.join('; ')}.`, ...out].join(' ').trim());
}

/** What to do where none of a crop is ranked since all lack the same parts; empty where they do not. */
function wayOut({ unranked }: CropRanking): string {
  const [first, ...others] = unranked;
  const lacking = (first?.lacks ?? []).filter((part) =>
    others.every(({ lacks }) => lacks.includes(part)),
  );
  if (lacking.length === 0) return '';
  const deeds = [...new Set(lacking.map((part) => (isMeasured(part) ? DEED[part] : 'taste them')))];
  return `${sentence(listed(deeds))}, or take ${listed(lacking)} out of rank.weights in ledger.yaml.`;
}

const DEED: Readonly<Record<MeasuredPart, string>> = {
  productivity: 'count branches',
  size: 'weigh fruit',
  soundness: 'write down what you pick',
  ripened: 'give the first frost in ledger.yaml',
};

/** Some that are not ranked, by name unless they are all that there is of a crop. */
function whoOf(
  ledger: Ledger,
  { crop, ranked, unranked }: CropRanking,
  those: readonly Unranked[],
  isOnlyCrop: boolean,
): string {
  if (ranked.length === 0 && those.length > 1 && those.length === unranked.length) {
    return `all ${those.length} cultivars of the ${cropPhrase(ledger, crop)}`;
  }
  const names = listed(those.map(({ cultivar }) => cultivarName(ledger, cultivar)));
  return isOnlyCrop ? names : `${names}, ${cropPhrase(ledger, crop)}`;
}

/** Who has no row under a cover, since nobody saw it there. */
function unseenNote(ledger: Ledger, { unseen, cover, ...ranking }: CropRanking): Note | undefined {
  if (unseen.length === 0 || cover === undefined) return undefined;
  return note(
    'evidence',
    `Never seen ${COVER_WORDS[cover]}, ${cropPhrase(ledger, ranking.crop)}, so without a row there: ${listed(unseen.map((cultivar) => cultivarName(ledger, cultivar)))}.`,
  );
}

/** Parts that a cultivar was seen in under other covers alone. */
function borrowedNote(ledger: Ledger, { ranked, crop, cover }: CropRanking): Note | undefined {
  const some = ranked.filter(({ borrows }) => borrows.length > 0);
  if (some.length === 0 || cover === undefined) return undefined;
  const who = some.map(
    ({ cultivar, borrows }) => `${cultivarName(ledger, cultivar)} (${listed(borrows)})`,
  );
  const names = some.map(({ cultivar }) => cultivarName(ledger, cultivar));
  return shownNote(
    'caution',
    `Not seen ${COVER_WORDS[cover]} itself, ${cropPhrase(ledger, crop)}, but told from what it and others did under other covers: ${who.join('; ')}.`,
    `Told in part from other covers, ${COVER_WORDS[cover]}: ${listed(names, 3)}.`,
  );
}

/** Sites that no cultivar joins: there the site's part and the cultivar's cannot be parted. */
function sitesNote(ledger: Ledger, { crop, ranked, siteGroups }: CropRanking): Note | undefined {
  if (ranked.length === 0 || siteGroups.length < 2) return undefined;
  const groups = siteGroups.map((keys) => listed(keys.map((key) => siteName(ledger, key))));
  const apart = `no cultivar stood both at ${listed(groups).replaceAll(',', ';')}`;
  return shownNote(
    'caution',
    `In the ${cropPhrase(ledger, crop)} ${apart}: there a better site cannot be told from better cultivars. Rank them apart with --site.`,
    `${sentence(apart)}, so the site may be what sets them apart: --site.`,
  );
}
