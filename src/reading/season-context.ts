import { diagnose } from '../diagnostics/diagnostic.ts';
import { didYouMean } from '../diagnostics/did-you-mean.ts';
import { cropUnknown, siteUnknown, treeUnknown } from '../diagnostics/words/naming.ts';
import type { Tree } from '../model/collection.ts';
import type { IsoDate } from '../model/dates.ts';
import type { Taster } from '../model/entries.ts';
import type { Crop, Site, Trial } from '../model/ledger.ts';
import { type Spot, spotIn } from '../source/source-file.ts';
import type { ListedThings } from './build-collection.ts';
import { type Building, lookUp } from './building.ts';

/** Everything that the entries of a season may name. */
export interface SeasonContext extends Building {
  readonly trial: Trial;
  readonly trees: ListedThings<Tree>;
  readonly sites: ListedThings<Site>;
  readonly tasters: ListedThings<Taster>;
  /** Keys of `ledger.yaml` that could not be used. */
  readonly unsure: ReadonlySet<string>;
}

export interface RawEntry {
  readonly on: string;
  readonly note?: string | null | undefined;
  readonly photo?: string | null | undefined;
}

export function entryOf(entry: RawEntry, season: number, at: Spot) {
  return {
    at,
    season,
    on: entry.on as IsoDate,
    note: entry.note ?? undefined,
    photo: entry.photo ?? undefined,
  };
}

export function treeAt(context: SeasonContext, id: string | number, at: Spot): Tree | undefined {
  const { listed, faulty } = context.trees;
  return lookUp(context, treeUnknown, id, listed, faulty, at, 'tree');
}

export function siteAt(context: SeasonContext, key: string | number, at: Spot): Site | undefined {
  const { listed, faulty } = context.sites;
  return lookUp(context, siteUnknown, key, listed, faulty, at, 'site');
}

/** The crop by the program's word or the ledger's own. */
export function cropAt(context: SeasonContext, word: string | number, at: Spot): Crop | undefined {
  const names = context.trial.cropNames;
  if (word === 'early' || word === names.early) return 'early';
  if (word === 'main' || word === names.main) return 'main';
  if (context.unsure.has('crops')) return undefined;
  const known = [...new Set(['early', 'main', names.early, names.main])];
  const facts = { name: String(word), nearest: didYouMean(String(word), known), known };
  context.report(diagnose(cropUnknown, spotIn(at, 'crop'), facts));
  return undefined;
}
