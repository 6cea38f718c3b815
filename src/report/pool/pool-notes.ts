import { weighedParts } from '../../judge/index/gather-trial.ts';
import { RANK_SEED } from '../../judge/index/simulation.ts';
import type { CropPool, GardenLeftOut } from '../../judge/pool/pool-crops.ts';
import {
  type PooledCultivar,
  plainName,
  type SameCultivars,
} from '../../judge/pool/same-cultivars.ts';
import { groupBy } from '../../measure/group-by.ts';
import { shownNote as brief, note } from '../common-notes.ts';
import { whyNot } from '../judged/rank-notes.ts';
import { decimalText, inTenths } from '../number-words.ts';
import type { Note } from '../table.ts';
import { listed, sentence } from '../words.ts';
import { poolExplanation, poolSpreadWords } from './pool-explanation.ts';
import type { PoolMaterial, PoolReportRequest } from './pool-request.ts';
import { manyGardens } from './pool-title.ts';

type Some = readonly (Note | undefined)[];

export function poolNotes(
  material: PoolMaterial,
  request: PoolReportRequest,
  pools: readonly CropPool[],
  shown: readonly CropPool[],
  top: number,
): Some {
  return [
    ...methodNotes(material, request, shown),
    ...shown.map((pool) => leadNote(pool, pools.length > 1, top)),
    ...agreementNotes(pools),
    aloneNote(shown),
    sameNote(material),
    questionsNote(material.same, shown),
    unjudgedNote(shown),
    ...shown.map((pool) => unrankedNote(material, pool)),
    ...leftOutNotes(material, pools),
    ...cautions(material, pools),
  ];
}

function methodNotes(
  { gardens }: PoolMaterial,
  request: PoolReportRequest,
  shown: readonly CropPool[],
): Some {
  const [home] = gardens;
  if (home === undefined) return [];
  const { scale } = home.ledger.trial;
  const weights = weighedParts(home.ledger)
    .map(([part, weight]) => `${part} ${weight}`)
    .join(', ');
  const others = gardens.filter(
    ({ ledger: { trial } }) => trial.scale.low !== scale.low || trial.scale.high !== scale.high,
  );
  return [
    note(
      'method',
      `Index by the weights and bands of ${home.name}, on its scale of ${scale.low} to ${scale.high}: ${weights}.${others.length === 0 ? '' : ` Marks on another scale are put on it by a straight line: ${listed(others.map(({ name }) => name))}.`}`,
    ),
    note(
      'method',
      `Every garden keeps its own level, tasters and spread of marks. "In gardens like these": at the mean level of these gardens. "A garden not here": apart from what shifts all cultivars of it alike. Simulated with seed ${request.seed ?? RANK_SEED}; --explain tells how, --names what was taken for the same.`,
    ),
    ...(request.explain === true
      ? [...poolExplanation(), ...shown.flatMap(poolSpreadWords)].map((text) =>
          note('method', text),
        )
      : []),
  ];
}

/** Whom to expect among the best of a garden like these. */
function leadNote({ crop, ranked }: CropPool, saysCrop: boolean, top: number): Note | undefined {
  if (ranked.length < 2) return undefined;
  const best = ranked
    .toSorted((a, b) => b.newTopShare - a.newTopShare)
    .slice(0, 3)
    .filter(({ newTopShare }, at) => at === 0 || newTopShare >= 0.3);
  const chances = best.map(
    ({ cultivar, newTopShare }) => `${cultivar.name} ${inTenths(newTopShare)}`,
  );
  const place = top === 1 ? 'the best' : `among the best ${top}`;
  return note(
    'evidence',
    inCrop(crop, saysCrop, `chance to be ${place} of a garden like these: ${listed(chances)}.`),
  );
}

/** Whether what does well in one garden does well in the next. */
export function agreementNotes(pools: readonly CropPool[]): readonly Note[] {
  const told = pools.flatMap((pool) => {
    const words = agreementWords(pool);
    return words === undefined ? [] : [{ crop: pool.crop, ...words }];
  });
  const [first, second] = told;
  if (first === undefined) return [];
  const both = 'In both crops ';
  if (second?.long === first.long) {
    return [brief('evidence', `${both}${first.long}`, `${both}${first.short}`)];
  }
  return told.map(({ crop, long, short }) =>
    brief('evidence', inCrop(crop, pools.length > 1, long), inCrop(crop, pools.length > 1, short)),
  );
}

function agreementWords(
  pool: CropPool,
): { readonly long: string; readonly short: string } | undefined {
  if (pool.spreads === undefined) return undefined;
  const { gardenShare: share } = pool.spreads;
  const told =
    share < 0.2
      ? 'what does well in one garden mostly does well in the next'
      : share < 0.4
        ? 'gardens differ in what does well there, though less than cultivars differ everywhere'
        : share < 0.6
          ? 'gardens differ in what does well there about as much as cultivars differ everywhere: the best of one garden is a weak guide'
          : 'gardens differ in what does well there more than cultivars differ everywhere: the best of one garden is hardly a guide';
  const few =
    pool.gardens.length < 4
      ? ` (${manyGardens(pool.gardens.length)} can hardly tell; much of this is what was reckoned with beforehand)`
      : '';
  return { long: `${told}${few}.`, short: `${told}.` };
}

function inCrop(crop: string, saysCrop: boolean, text: string): string {
  return saysCrop ? `The ${crop} crop: ${text}` : sentence(text);
}

function aloneNote(shown: readonly CropPool[]): Note | undefined {
  const alone = new Set(
    shown.flatMap(({ ranked }) =>
      ranked.filter(({ at }) => at.length === 1).map(({ cultivar }) => cultivar.name),
    ),
  );
  const often = shown.some(({ ranked }) => ranked.some(({ at }) => at.length > 1));
  if (alone.size === 0 || !often) return undefined;
  return brief(
    'evidence',
    `Judged in one garden only, so by its place there and what others share with it: ${listed([...alone], 8)}.`,
    `Only in one garden: ${listed([...alone], 4)}.`,
  );
}

/** Which names were joined; undefined where none were. */
export function sameNote({ same, gardens }: PoolMaterial): Note | undefined {
  const told = same.cultivars.flatMap(({ name, members }) => {
    // Who reads of quotation marks and accents learns nothing.
    const others = new Map(
      members
        .map(({ cultivar }) => [plainName(cultivar.name), cultivar.name] as const)
        .filter(([plain]) => plain !== plainName(name)),
    );
    return members.length === 1 || others.size === 0
      ? []
      : [`${listed([...others.values()])} = ${name}`];
  });
  const conflicts = same.conflicts.map(
    ({ garden, kept, against }) =>
      `${listed(kept.map(({ name }) => name))}, which ${gardens[garden]?.name} keeps apart and names elsewhere (${listed([...new Set(against.map(({ cultivar }) => cultivar.name))])}) would make one`,
  );
  const texts = [
    ...(told.length === 0 ? [] : [`Taken for the same by their names: ${told.join('; ')}.`]),
    ...(conflicts.length === 0 ? [] : [`Joined by name alone: ${conflicts.join('; ')}.`]),
  ];
  return texts.length === 0 ? undefined : note('evidence', texts.join(' '));
}

/** What only the keepers of the gardens can know; pairs of which neither is in the table are left to --names. */
export function questionsNote(
  { cultivars, alike, doubts }: SameCultivars,
  shown: readonly CropPool[],
): Note | undefined {
  const figures = new Map(
    shown.flatMap(({ ranked }) => ranked.map(({ cultivar, index }) => [cultivar, index] as const)),
  );
  const pairs = (
    of: readonly { readonly one: number; readonly other: number }[],
    tell: (cultivar: PooledCultivar) => string,
  ) => [
    ...new Set(
      of.flatMap(({ one, other }) => {
        const both = [one, other].flatMap((at) => cultivars[at] ?? []);
        return both.some((cultivar) => figures.has(cultivar)) ? [both.map(tell).join(' and ')] : [];
      }),
    ),
  ];
  const withFigure = (cultivar: PooledCultivar) => {
    const index = figures.get(cultivar);
    return index === undefined ? cultivar.name : `${cultivar.name} (${decimalText(index, 1)})`;
  };
  const [asked, doubted] = [pairs(alike, ({ name }) => name), pairs(doubts, withFigure)];
  const texts = [
    ...(asked.length === 0 ? [] : [`Not joined, but are they one? ${asked.join('; ')}.`]),
    ...(doubted.length === 0
      ? []
      : [`Perhaps the same, says a garden, and kept apart: ${doubted.join('; ')}.`]),
  ];
  if (texts.length === 0) return undefined;
  const all = [...asked, ...pairs(doubts, ({ name }) => name)];
  // A terminal has no room for all of them beside the answer.
  const short = `Perhaps one, kept apart: ${all[0]}${all.length > 1 ? `, and ${all.length - 1} more` : ''} (--names).`;
  return brief('caution', texts.join(' '), short);
}

function unjudgedNote(shown: readonly CropPool[]): Note | undefined {
  const names = new Set(
    shown.flatMap(({ ranked }) =>
      ranked
        .filter(({ here, isJudgedHere }) => here !== undefined && !isJudgedHere)
        .map(({ cultivar }) => cultivar.name),
    ),
  );
  if (names.size === 0) return undefined;
  return note(
    'evidence',
    `Not judged whole at home yet, so "here" is what the other gardens say: ${listed([...names])}.`,
  );
}

function unrankedNote({ gardens }: PoolMaterial, { crop, unranked }: CropPool): Note | undefined {
  const [home] = gardens;
  if (unranked.length === 0 || home === undefined) return undefined;
  const byReason = groupBy(unranked, (one) => whyNot(home.ledger, one));
  const told = [...byReason].map(
    ([why, those]) => `${listed(those.map(({ cultivar }) => cultivar.name))} (${why})`,
  );
  return note('evidence', `Not ranked, ${crop}: ${told.join('; ')}.`);
}

export function leftOutNotes({ gardens, leftOut }: PoolMaterial, pools: readonly CropPool[]): Some {
  const told = pools.flatMap((pool) =>
    pool.leftOut.map(
      (one) =>
        `${gardens[one.garden]?.name} takes no part${pools.length > 1 ? ` in the ${pool.crop} crop` : ''}: ${whyLeftOut(pool, one)}.`,
    ),
  );
  const named = leftOut.map(({ name, why }) => `${name} takes no part: ${why}.`);
  return [...named, ...told].map((text) => brief('caution', text));
}

function whyLeftOut({ gardens }: CropPool, { why, lacks }: GardenLeftOut): string {
  switch (why) {
    case 'nothing':
      return 'nothing was entered of that crop';
    case 'one':
      return 'only one cultivar was judged whole there, and it has nothing to be better or worse than';
    case 'parts':
      return lacks.length === 0
        ? 'no cultivar has every weighted part there'
        : `it has no ${listed(lacks)}, and no part is made up; --parts leaves parts out for all`;
    case 'apart':
      return gardens.length === 0
        ? 'it shares no cultivar with another garden'
        : 'it shares no cultivar with the rest, so a better garden cannot be told from better cultivars';
  }
}

function cautions({ gardens, twins }: PoolMaterial, pools: readonly CropPool[]): Some {
  const pooled = new Set(pools.flatMap((pool) => pool.gardens));
  const of = (pollinator: string) =>
    gardens
      .filter(({ ledger }, at) => pooled.has(at) && ledger.trial.pollinator === pollinator)
      .map(({ name }) => name);
  const [present, absent] = [of('present'), of('absent')];
  const ranked = new Set(pools.flatMap((pool) => pool.ranked.map(({ cultivar }) => cultivar)));
  return [
    ...twins.map(([one, other]) =>
      brief(
        'caution',
        `${one} and ${other} bear the same title: if one is a copy of the other, its trees count twice.`,
      ),
    ),
    present.length > 0 && absent.length > 0
      ? note(
          'caution',
          `Fruit can be pollinated at ${listed(present)} and not at ${listed(absent)}: a crop that needs it is another thing there.`,
        )
      : undefined,
    pooled.size === 0
      ? undefined
      : brief(
          'caution',
          `Before plants change hands between gardens, check plant-health movement rules and breeders' rights where you live.${rightsWords([...ranked])} Local rules and qualified advice come first.`,
          "Before plants change hands: plant-health rules and breeders' rights where you live come first.",
        ),
  ];
}

function rightsWords(ranked: readonly PooledCultivar[]): string {
  const guarded = ranked.filter(({ members }) =>
    members.some(({ cultivar }) => cultivar.protected === true),
  );
  return guarded.length === 0
    ? ''
    : ` Such rights are noted for ${listed(guarded.map(({ name }) => name))}.`;
}
