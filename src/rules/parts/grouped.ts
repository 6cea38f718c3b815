import type { Crop } from '../../model/ledger.ts';

/** Members by key, groups and members in the order in which they came. */
export function grouped<Key, Member>(
  members: Iterable<Member>,
  keyOf: (member: Member) => Key,
): ReadonlyMap<Key, readonly Member[]> {
  const groups = new Map<Key, Member[]>();
  for (const member of members) {
    const key = keyOf(member);
    const group = groups.get(key);
    if (group === undefined) groups.set(key, [member]);
    else group.push(member);
  }
  return groups;
}

/** One key for a tree's crop, to group by. */
export function treeCrop(entry: {
  readonly tree: { readonly id: string };
  readonly crop: Crop;
}): string {
  return `${entry.crop} ${entry.tree.id}`;
}

/** Entries by date; those of one day stay in the order of the file. */
export function byDate<Entry extends { readonly on: string }>(entries: Iterable<Entry>): Entry[] {
  return [...entries].sort((a, b) => (a.on < b.on ? -1 : a.on > b.on ? 1 : 0));
}
