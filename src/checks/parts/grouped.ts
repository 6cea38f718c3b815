import type { Crop } from '../../model/ledger.ts';
import type { Spot } from '../../source/source-file.ts';

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

/** Entries by date; those of one day as their file has them. */
export function byDate<Entry extends { readonly on: string; readonly at: Spot }>(
  entries: Iterable<Entry>,
): Entry[] {
  return [...entries].sort((a, b) =>
    a.on < b.on ? -1 : a.on > b.on ? 1 : placeOf(a) - placeOf(b),
  );
}

/** Entries of one section as their file has them: of two that clash, the later one is questioned. */
export function asWritten<Entry extends { readonly at: Spot }>(entries: readonly Entry[]): Entry[] {
  return entries.toSorted((a, b) => placeOf(a) - placeOf(b));
}

function placeOf({ at }: { readonly at: Spot }): number {
  return Number(at.path.at(-1));
}
