import { diagnose } from '../diagnostics/diagnostic.ts';
import { pickEmpty } from '../diagnostics/words/reading.ts';
import { type Count, DEFECTS, type Drop, type Growth, type Pick } from '../model/entries.ts';
import type { Season } from '../model/ledger.ts';
import { type SourceFile, type Spot, spotIn, spotOf } from '../source/source-file.ts';
import { buildEvent } from './build-event.ts';
import { buildTasting } from './build-tasting.ts';
import { quantityAt } from './building.ts';
import type { RawPick, RawSeason } from './schema/season-schema.ts';
import { cropAt, entryOf, type RawEntry, type SeasonContext, treeAt } from './season-context.ts';

/** One `seasons/YYYY.yaml` as the model has it; entries in `bad` are left out. */
export function buildSeason(
  raw: RawSeason,
  bad: ReadonlySet<string>,
  year: number,
  file: SourceFile,
  context: SeasonContext,
): Season {
  const at = spotOf(file);
  /** The usable entries of a section, each built by `build`; what it cannot build is left out. */
  const section = <Raw, Built>(
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
    return Object.freeze(built);
  };
  return Object.freeze({
    at,
    year,
    counts: section('counts', raw.counts, (entry, where): Count | undefined => {
      const base = cropEntry(entry, year, where, context);
      return base && { ...base, fruit: entry.fruit, branches: entry.branches };
    }),
    picks: section('picks', raw.picks, (entry, where) => buildPick(entry, year, where, context)),
    drops: section('drops', raw.drops, (entry, where): Drop | undefined => {
      const base = cropEntry(entry, year, where, context);
      return base && { ...base, fruit: entry.fruit };
    }),
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

function cropEntry(
  entry: RawEntry & { readonly tree: string | number; readonly crop: string | number },
  season: number,
  at: Spot,
  context: SeasonContext,
) {
  const tree = treeAt(context, entry.tree, at);
  const crop = cropAt(context, entry.crop, at);
  return tree && crop && { ...entryOf(entry, season, at), tree, crop };
}

const NO_DEFECTS = Object.freeze({ split: 0, bird: 0, insect: 0, mould: 0, unripe: 0 });

function buildPick(
  raw: RawPick,
  season: number,
  at: Spot,
  context: SeasonContext,
): Pick | undefined {
  const base = cropEntry(raw, season, at, context);
  const weights: number[] = [];
  let readable = true;
  const list = raw.weights === undefined || raw.weights.length === 0 ? at : spotIn(at, 'weights');
  for (const [index, written] of (raw.weights ?? []).entries()) {
    const weight = quantityAt(context, written, 'weight', list, 'an item of weights', index);
    if (weight === undefined) readable = false;
    else weights.push(weight);
  }
  const weight = quantityAt(context, raw.weight, 'weight', at, 'weight');
  if (base === undefined || !readable || (weight === undefined && raw.weight !== undefined)) {
    return undefined;
  }
  if (raw.fruit === undefined && weights.length === 0) {
    context.report(diagnose(pickEmpty, at, {}));
    return undefined;
  }
  const spoiled = DEFECTS.some((defect) => raw[defect] !== undefined);
  return {
    ...base,
    fruit: raw.fruit ?? weights.length,
    weights: Object.freeze(weights),
    weight,
    sample: raw.sample,
    defects: spoiled
      ? Object.freeze({
          split: raw.split ?? 0,
          bird: raw.bird ?? 0,
          insect: raw.insect ?? 0,
          mould: raw.mould ?? 0,
          unripe: raw.unripe ?? 0,
        })
      : NO_DEFECTS,
  };
}
