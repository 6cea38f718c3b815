import type { Tree } from '../model/collection.ts';
import type { Crop } from '../model/ledger.ts';

/**
 * What part of a ledger is asked for, by keys. A list that is left out or empty asks for all.
 */
export interface Selection {
  readonly seasons?: readonly number[] | undefined;
  readonly crops?: readonly Crop[] | undefined;
  /** Keys of sites. */
  readonly sites?: readonly string[] | undefined;
  /** Keys of cultivars. */
  readonly cultivars?: readonly string[] | undefined;
  /** Ids of trees. */
  readonly trees?: readonly string[] | undefined;
}

export const EVERYTHING: Selection = {};

/**
 * The same data with every cultivar: what is judged against the others is judged against all of
 * them, and the cultivars that were asked for only pick rows.
 */
export function withEveryCultivar<S extends Selection>(selection: S): S {
  return { ...selection, cultivars: undefined };
}

/** What a selection looks at. */
export interface Selectable {
  readonly season: number;
  readonly crop: Crop;
  readonly site: string;
  readonly tree: Tree;
}

/** Whether something belongs to what a selection asks for. */
export function isSelected(selection: Selection, one: Selectable): boolean {
  return (
    allows(selection.seasons, one.season) &&
    allows(selection.crops, one.crop) &&
    allows(selection.sites, one.site) &&
    allows(selection.cultivars, one.tree.cultivar.key) &&
    allows(selection.trees, one.tree.id)
  );
}

/** Whether a list of a selection lets a value through. */
export function allows<T>(list: readonly T[] | undefined, value: T): boolean {
  return list === undefined || list.length === 0 || list.includes(value);
}
