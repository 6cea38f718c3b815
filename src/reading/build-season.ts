import { diagnose } from '../diagnostics/diagnostic.ts';
import { pickEmpty } from '../diagnostics/words/reading.ts';
import type { RawCount, RawDrop, RawPick, RawSeason } from '../entries/derive/schemas.ts';
import { byDate, type Dated } from '../model/canonical-order.ts';
import type { IsoDate } from '../model/dates.ts';
import {
  type Count,
  DEFECTS,
  type Drop,
  type Growth,
  NO_DEFECTS,
  type Pick,
} from '../model/entries.ts';
import type { Season } from '../model/ledger.ts';
import { type SourceFile, type Spot, spotIn, spotOf } from '../source/source-file.ts';
import { buildEvent } from './build-event.ts';
import { buildTasting } from './build-tasting.ts';
import { quantityAt } from './building.ts';
import { cropAt, entryOf, type SeasonContext, treeAt } from './season-context.ts';

/** One `seasons/YYYY.yaml` as the model has it; entries in `bad` are left out. */
export function buildSeason(
  raw: RawSeason,
  bad: ReadonlySet<string>,
  year: number,
  file: SourceFile,
  context: SeasonContext,
): Season {
  const at = spotOf(file);
  /** The usable entries of a section in the order of the model, each built by `build`; what it cannot build is left out. */
  const section = <Raw, Built extends Dated>(
    name: string,
    list: readonly Raw[] | null | undefined,
    build: (entry: Raw, at: Spot) => Built | undefined,
  ): readonly Built[] => {
    const built: Built[] = [];
    if (!Array.isArray(list)) return Object.freeze(built);
    for (const [index, entry] of list.entries()) {
      if (bad.has(`${name}/${index}`)) continue;
      const made = build(entry, spotIn(at, name, index));
      if (made !== undefined) built.push(Object.freeze(made));
    }
    return Object.freeze(byDate(built));
  };
  return Object.freeze({
    at,
    year,
    counts: section('counts', raw.counts, (entry, where) =>
      buildCount(entry, year, where, context),
    ),
    picks: section('picks', raw.picks, (entry, where) => buildPick(entry, year, where, context)),
    drops: section('drops', raw.drops, (entry, where) => buildDrop(entry, year, where, context)),
    tastings: section('tastings', raw.tastings, (entry, where) =>
      buildTasting(entry, year, where, context),
    ),
    growth: section('growth', raw.growth, (entry, where): Growth | undefined => {
      const tree = treeAt(context, entry.tree, where);
      const girth = quantityAt(context, entry.girth, 'girth', where, 'girth');
      const height = quantityAt(context, entry.height, 'height', where, 'height');
      return tree && { ...entryOf(entry, year, where), tree, girth, height };
    }),
    events: section('events', raw.events, (entry, where) =>
      buildEvent(entry, entryOf(entry, year, where), where, context),
    ),
  });
}

// Counts and picks are nearly all of a ledger: each is written out in one go, since spreading `entryOf` into
// it made the check of a large ledger a quarter slower.

function buildCount(
  raw: RawCount,
  season: number,
  at: Spot,
  context: SeasonContext,
): Count | undefined {
  const tree = treeAt(context, raw.tree, at);
  const crop = cropAt(context, raw.crop, at);
  if (tree === undefined || crop === undefined) return undefined;
  return {
    at,
    season,
    on: raw.on as IsoDate,
    note: raw.note ?? undefined,
    photo: raw.photo ?? undefined,
    tree,
    crop,
    fruit: raw.fruit,
    branches: raw.branches,
  };
}

function buildDrop(
  raw: RawDrop,
  season: number,
  at: Spot,
  context: SeasonContext,
): Drop | undefined {
  const tree = treeAt(context, raw.tree, at);
  const crop = cropAt(context, raw.crop, at);
  if (tree === undefined || crop === undefined) return undefined;
  return { ...entryOf(raw, season, at), tree, crop, fruit: raw.fruit };
}

function buildPick(
  raw: RawPick,
  season: number,
  at: Spot,
  context: SeasonContext,
): Pick | undefined {
  const tree = treeAt(context, raw.tree, at);
  const crop = cropAt(context, raw.crop, at);
  const weights = weightsOf(raw, at, context);
  const weight = quantityAt(context, raw.weight, 'weight', at, 'weight');
  if (tree === undefined || crop === undefined || weights === undefined) return undefined;
  if (weight === undefined && raw.weight !== undefined) return undefined;
  if (raw.fruit === undefined && weights.length === 0) {
    context.report(diagnose(pickEmpty, at, {}));
    return undefined;
  }
  return {
    at,
    season,
    on: raw.on as IsoDate,
    note: raw.note ?? undefined,
    photo: raw.photo ?? undefined,
    tree,
    crop,
    fruit: raw.fruit ?? weights.length,
    weights,
    weight,
    sample: raw.sample,
    defects: defectsOf(raw),
  };
}

const NO_WEIGHTS: readonly number[] = Object.freeze([]);

/** Weights of single fruit, g; undefined if any cannot be read. */
function weightsOf(raw: RawPick, at: Spot, context: SeasonContext): readonly number[] | undefined {
  if (raw.weights === undefined || raw.weights.length === 0) return NO_WEIGHTS;
  const list = spotIn(at, 'weights');
  const weights: number[] = [];
  for (let index = 0; index < raw.weights.length; index++) {
    const written = raw.weights[index];
    const weight = quantityAt(context, written, 'weight', list, 'an item of weights', index);
    if (weight !== undefined) weights.push(weight);
  }
  return weights.length === raw.weights.length ? Object.freeze(weights) : undefined;
}

function defectsOf(raw: RawPick): Pick['defects'] {
  if (DEFECTS.every((defect) => raw[defect] === undefined)) return NO_DEFECTS;
  const defects = { ...NO_DEFECTS };
  for (const defect of DEFECTS) defects[defect] = raw[defect] ?? 0;
  return Object.freeze(defects);
}
