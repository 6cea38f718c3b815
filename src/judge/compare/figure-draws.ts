import type { Crop, Ledger, MeasuredPart } from '../../model/ledger.ts';
import { connectedGroups } from '../../stats/numbers/connected-groups.ts';
import { type DrawnTrial, drawIndex, type ItemDraws } from '../index/draw-index.ts';
import { traitDraws } from '../index/draw-traits.ts';
import { type GatheredTrial, gatherTrial, weighedParts } from '../index/gather-trial.ts';
import { partsSeen } from '../index/parts-seen.ts';
import { RANK_SEED } from '../index/simulation.ts';
import type { TastedSelection } from '../scores/tasted-scores.ts';

/** Draws of figures by item of a trial; draw d of everything belongs together as far as one model drew it. */
interface ComparedFigures {
  readonly trial: GatheredTrial;
  /** By key of a trait or measured part, in its own unit: of a grown tree, over new trees and swings and all sites. */
  readonly figures: ReadonlyMap<string, ItemDraws>;
}

/** Tells of measured parts, whether or not they are weighed. */
export const TOLD = [
  'productivity',
  'size',
  'soundness',
] as const satisfies readonly MeasuredPart[];

/**
 * Draws of every trait and of fruit per branch, weight and share of sound fruit.
 *
 * Weighed parts are those of the index. Of what carries no weight, and of traits of a cultivar that lacks another
 * weighed one, each is a part of its own in a second joint model.
 *
 * @param drawn what was drawn of the index of this selection, where that is known
 */
export function figureDraws(
  ledger: Ledger,
  selection: TastedSelection,
  crop: Crop,
  drawn?: { readonly trial: GatheredTrial; readonly drawn: DrawnTrial | undefined },
): ComparedFigures {
  const trial = drawn?.trial ?? gatherTrial(ledger, selection, crop);
  const index = drawn ? drawn.drawn : drawIndex(trial, { seed: RANK_SEED });
  const figures = new Map<string, ItemDraws>();
  for (const { part, figures: own } of index?.views[0]?.parts ?? []) figures.set(part, own);
  const taste = figures.get('taste');
  figures.delete('taste');
  if (index !== undefined && taste !== undefined) {
    const traits = traitDraws(trial, taste, RANK_SEED + 1, index.length);
    trial.traits.forEach(({ key }, at) => {
      figures.set(key, traits[at] ?? []);
    });
  }
  const weighed = new Set(weighedParts(ledger).map(([part]) => part));
  const seen = partsSeen(trial);
  const isLeft = (trait: string) =>
    !weighed.has(trait) ||
    seen.some((own, item) => own.has(trait) && figures.get(trait)?.[item] === undefined);
  const rest = [
    ...ledger.trial.traits.filter(isLeft),
    ...TOLD.filter((part) => !figures.has(part)),
  ];
  if (rest.length === 0) return { trial, figures };
  const others = gatherTrial(
    ledger,
    selection,
    crop,
    rest.map((part) => [part, 1] as const),
  );
  const apart = drawIndex(others, { seed: RANK_SEED + 2, apart: true });
  for (const { part, figures: own } of apart?.views[0]?.parts ?? []) {
    const known = figures.get(part);
    figures.set(
      part,
      own.map((draws, item) => known?.[item] ?? draws),
    );
  }
  return { trial, figures };
}

/** By item, a group of those that tasters join: of two in different groups nobody can tell tasters from cultivars. */
export function tasterGroups({ items, tasted }: GatheredTrial): readonly number[] {
  const byTaster = new Map<number, number[]>();
  for (const { item, taster } of tasted) {
    byTaster.set(taster, [...(byTaster.get(taster) ?? []), item]);
  }
  const groupOf: number[] = [];
  connectedGroups(items, byTaster.values()).forEach((group, at) => {
    for (const item of group) groupOf[item] = at;
  });
  return groupOf;
}
