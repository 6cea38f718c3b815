import { groupBy } from '../../measure/group-by.ts';
import type { Entry, FieldValue } from './ledger-entries.ts';

/** An entry that is there in one ledger and not, or not so, in the other. */
export type EntryChange =
  | { readonly what: 'added'; readonly entry: Entry }
  | { readonly what: 'removed'; readonly entry: Entry }
  | { readonly what: 'altered'; readonly entry: Entry; readonly fields: readonly FieldChange[] };

/** A field that is absent before was added, one that is absent after was taken away. */
export interface FieldChange {
  readonly field: string;
  readonly before: FieldValue | undefined;
  readonly after: FieldValue | undefined;
}

/**
 * What changed between two lists of entries. Equal entries are the same entry, however often they
 * occur. Of the rest, entries of one kind, tree, crop and day are taken as one entry that was
 * altered, those that differ least first; and those that differ in the day alone likewise.
 */
export function compareEntries(
  before: readonly Entry[],
  after: readonly Entry[],
): readonly EntryChange[] {
  const removed = without(before, after);
  const added = without(after, before);
  const altered = [
    ...pairUp(removed, added, subject, Number.POSITIVE_INFINITY),
    ...pairUp(removed, added, dayless, 1),
  ];
  return [
    ...[...removed].map((entry): EntryChange => ({ what: 'removed', entry })),
    ...altered,
    ...[...added].map((entry): EntryChange => ({ what: 'added', entry })),
  ];
}

function without(entries: readonly Entry[], others: readonly Entry[]): Set<Entry> {
  const left = new Map<string, number>();
  for (const entry of others) left.set(identity(entry), (left.get(identity(entry)) ?? 0) + 1);
  return new Set(
    entries.filter((entry) => {
      const count = left.get(identity(entry)) ?? 0;
      left.set(identity(entry), count - 1);
      return count <= 0;
    }),
  );
}

const identities = new WeakMap<Entry, string>();

function identity(entry: Entry): string {
  let known = identities.get(entry);
  if (known === undefined) {
    const fields = Object.entries(entry.fields).toSorted(([a], [b]) => (a < b ? -1 : 1));
    known = JSON.stringify([subject(entry), fields]);
    identities.set(entry, known);
  }
  return known;
}

function subject({ kind, name, tree, crop, on, fields }: Entry): string {
  return JSON.stringify([kind, name, tree, crop, on, kind === 'event' ? fields['kind'] : null]);
}

/** Undefined for what has no day, or is nothing but its day. */
function dayless(entry: Entry): string | undefined {
  const isDay = entry.on === undefined || entry.kind === 'weather';
  return isDay ? undefined : subject({ ...entry, on: undefined });
}

/** Takes pairs out of both sets, those with the fewest differences first. */
function pairUp(
  removed: Set<Entry>,
  added: Set<Entry>,
  keyOf: (entry: Entry) => string | undefined,
  mostFields: number,
): readonly EntryChange[] {
  const candidates = groupBy(added, keyOf);
  const pairs = [...removed].flatMap((before) => {
    const key = keyOf(before);
    const alike = key === undefined ? [] : (candidates.get(key) ?? []);
    return alike.map((after) => ({ before, after, fields: fieldChanges(before, after) }));
  });
  const altered: EntryChange[] = [];
  for (const { before, after, fields } of pairs
    .filter((pair) => pair.fields.length <= mostFields)
    .toSorted((a, b) => a.fields.length - b.fields.length)) {
    if (!removed.has(before) || !added.has(after)) continue;
    removed.delete(before);
    added.delete(after);
    altered.push({ what: 'altered', entry: after, fields });
  }
  return altered;
}

function fieldChanges(before: Entry, after: Entry): readonly FieldChange[] {
  const day = { field: 'on', before: before.on, after: after.on };
  const keys = new Set([...Object.keys(before.fields), ...Object.keys(after.fields)]);
  const fields = [...keys].map((field) => {
    return { field, before: before.fields[field], after: after.fields[field] };
  });
  return [day, ...fields].filter((one) => JSON.stringify(one.before) !== JSON.stringify(one.after));
}
