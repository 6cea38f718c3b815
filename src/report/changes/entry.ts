import type { Crop } from '../../model/ledger.ts';

/** What a ledger says in one place, as fields that can be held against those of another ledger. */
export interface Entry {
  readonly kind: EntryKind;
  /** What it is about where that is neither tree nor day: a key, a setting, a site. */
  readonly name: string | undefined;
  /** Id. */
  readonly tree: string | undefined;
  readonly crop: Crop | undefined;
  /** YYYY-MM-DD */
  readonly on: string | undefined;
  /** Keys of the cultivars whose figures it may touch. */
  readonly cultivar: string | undefined;
  readonly fields: Readonly<Record<string, FieldValue>>;
}

export type EntryKind =
  | 'setting'
  | 'cultivar'
  | 'tree'
  | 'count'
  | 'pick'
  | 'drop'
  | 'tasting'
  | 'sample'
  | 'growth'
  | 'event'
  | 'weather';

export type FieldValue = string | number | boolean | readonly number[] | readonly string[];

/** Fields without those that are not known. */
export function knownFields(
  fields: Readonly<Record<string, FieldValue | undefined>>,
): Readonly<Record<string, FieldValue>> {
  return Object.fromEntries(
    Object.entries(fields).flatMap(([key, value]) => (value === undefined ? [] : [[key, value]])),
  );
}
