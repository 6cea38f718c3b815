import type { RawSeason } from '../entries/derive/schemas.ts';
import type { Crop, SeasonSection } from '../model/ledger.ts';

type Item<Key extends SeasonSection> = NonNullable<RawSeason[Key]>[number];

/** An entry as it will stand in a season file: the keys and values that a person would type. */
export type NewEntry = {
  [Key in SeasonSection]: { readonly section: Key; readonly entry: Item<Key> } & OfSitting<Key>;
}[SeasonSection];

type OfSitting<Key extends SeasonSection> = Key extends 'tastings'
  ? {
      /** Which of several sittings of its day this is of, where there are several to be written. */
      readonly sitting?: string;
    }
  : unknown;

/** A map of a ledger file as it was read, or as it will be written. */
export type FileMap = Readonly<Record<string, unknown>>;

/** The words that stand for the two crops, so that `breba` and `early` are known to be one. */
export type CropNames = Readonly<Record<Crop, string>>;

export function isFileMap(value: unknown): value is FileMap {
  return typeof value === 'object' && value !== null && !Array.isArray(value) && !(SOURCE in value);
}

const SOURCE = Symbol('source');

/** A value that is to be written exactly as its author wrote it: 52.40 stays 52.40. */
export function asWritten(source: string): unknown {
  return { [SOURCE]: source };
}

/** The author's own writing of a value, if that is to be kept. */
export function writtenSource(value: unknown): string | undefined {
  if (typeof value !== 'object' || value === null || !(SOURCE in value)) return undefined;
  return String(value[SOURCE]);
}
