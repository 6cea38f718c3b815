/**
 * A map that cannot be changed. `Object.freeze` does not reach what a map holds, so the methods that
 * would change it are taken away as well.
 */
export function frozenMap<Key, Value>(
  entries: Iterable<readonly [Key, Value]>,
): ReadonlyMap<Key, Value> {
  return withoutChanges(new Map(entries));
}

/** A set that cannot be changed. */
export function frozenSet<Value>(values: Iterable<Value>): ReadonlySet<Value> {
  return withoutChanges(new Set(values));
}

function withoutChanges<Collection extends object>(collection: Collection): Collection {
  for (const name of ['set', 'add', 'delete', 'clear']) {
    if (name in collection) Object.defineProperty(collection, name, { value: refuse });
  }
  return Object.freeze(collection);
}

function refuse(): never {
  throw new TypeError('nothing in a ledger may be changed');
}
