import { straightLineBand } from '../../stats/describe/straight-line-band.ts';
import { type JointDraw, jointDraws } from '../../stats/joint/joint-draws.ts';
import type { JointTrial } from '../../stats/joint/joint-trial.ts';
import { indexDraws } from '../../stats/mixed/index-draws.ts';
import type { ItemPlate } from '../../stats/mixed/item-doubt.ts';
import { type Length, lengthFor } from './chain-length.ts';
import type { JudgedTrial } from './judged-trial.ts';
import { type LaidPart, type LaidTrial, layOut } from './lay-out.ts';
import { platesOf } from './plates-of.ts';
import { StandingRecorder, type View } from './standing-recorder.ts';
import { type Told, ToldRecorder } from './told-recorder.ts';

export interface DrawOptions {
  readonly seed: number;
  /** The sites that figures are told for, by number; one view of all sites if left out. */
  readonly views?: readonly View[] | undefined;
  /** How many cultivars of which nothing was seen are drawn beside the rest. */
  readonly strangers?: number | undefined;
  /** Whether each trait is a part of its own. */
  readonly apart?: boolean | undefined;
  /** Other than `lengthFor` has it. */
  readonly length?: ((trial: JointTrial) => Length) | undefined;
}

/** By item; absent for one of which nothing was seen. */
export type ItemDraws = readonly (Float64Array | undefined)[];

/** A part of the index, over the sites of a view. */
export interface DrawnPart {
  /** A measured part, `taste`, or where traits are drawn apart the key of one. */
  readonly part: string;
  readonly weight: number;
  /** In the part's own unit: points, fruit per branch, g, a share. */
  readonly figures: ItemDraws;
  /** On the ledger's scale. */
  readonly items: ItemDraws;
  readonly spreads: Told['spreads'][number];
  /** What an item's draws rest on; counted when it is asked for. */
  readonly plates: (item: number) => readonly ItemPlate[];
}

/** What the sites of a view say; draw d of everything belongs together. */
export interface DrawnView {
  /** Absent for an item that lacks a part: none is made up. */
  readonly index: ItemDraws;
  /** Of one new tree in a new season, all parts together. */
  readonly newIndex: ItemDraws;
  readonly parts: readonly DrawnPart[];
  /** The index of cultivars of which nothing was seen: what is known of any before it is looked at. */
  readonly strangers: readonly Float64Array[];
}

export interface DrawnTrial {
  readonly views: readonly DrawnView[];
  readonly told: Told;
  readonly length: Length;
}

/**
 * Draws of the index and its parts by the joint model (MODEL.md), item by item: a straight way from the trial's
 * numbers over the lay-out and the chain to draws on the ledger's scale.
 *
 * @returns undefined where nothing weighed was seen
 */
export function drawIndex(trial: JudgedTrial, options: DrawOptions): DrawnTrial | undefined {
  const seen = layOut(trial, options.apart);
  if (seen === undefined) return undefined;
  const { strangers = 0 } = options;
  const laid = { ...seen, trial: { ...seen.trial, items: seen.trial.items + strangers } };
  const views = options.views ?? [Array.from({ length: trial.sites }, (_, site) => site)];
  const length = (options.length ?? lengthFor)(laid.trial);
  const draws = 2 * length.rounds * length.pairs;
  const standings = new StandingRecorder(laid, views, draws);
  const told = new ToldRecorder(laid.parts.length, length.rounds);
  const keep = (draw: JointDraw, at: number) => {
    standings.keep(draw, at);
    if (at < draws / 2 && at % length.pairs === 0) told.keep(draw.sampler, at / length.pairs);
  };
  const chain = jointDraws(laid.trial, { seed: options.seed, ...length }, keep);
  const known = told.told(chain);
  return {
    views: views.map((sites, view) => drawnView(trial, laid, standings, known, [view, sites])),
    told: known,
    length,
  };
}

function drawnView(
  { items }: JudgedTrial,
  laid: LaidTrial,
  standings: StandingRecorder,
  told: Told,
  [view, sites]: readonly [at: number, sites: View],
): DrawnView {
  const spread = (draws: readonly Float64Array[], part: LaidPart): ItemDraws => {
    // An order alone makes no part up.
    const seen = new Set(part.model.item.slice(0, part.scored));
    const all: (Float64Array | undefined)[] = Array.from({ length: items }, () => undefined);
    draws.forEach((own, at) => {
      if (seen.has(at)) all[laid.items[at] as number] = own;
    });
    return all;
  };
  const parts = laid.parts.map((part, k): DrawnPart => {
    const figures = spread(standings.lasting[view]?.[k] ?? [], part);
    return {
      part: part.part,
      weight: part.weight,
      figures,
      items: onScale(part, figures),
      spreads: told.spreads[k] as Told['spreads'][number],
      plates: (item) => platesOf(part.model, laid.items.indexOf(item), sites),
    };
  });
  const fresh = laid.parts.map((part, k) => ({
    weight: part.weight,
    items: onScale(part, spread(standings.fresh[view]?.[k] ?? [], part)),
  }));
  const strangers = laid.parts.map((part, k) => ({
    weight: part.weight,
    items: onScale(part, (standings.lasting[view]?.[k] ?? []).slice(laid.items.length)),
  }));
  return {
    index: indexDraws(parts),
    newIndex: indexDraws(fresh),
    parts,
    strangers: indexDraws(strangers).flatMap((draws) => draws ?? []),
  };
}

function onScale({ measured }: LaidPart, figures: ItemDraws): ItemDraws {
  if (measured?.band === undefined) return figures;
  const toScale = straightLineBand(measured.band);
  return figures.map((draws) => draws && toScale(draws));
}
