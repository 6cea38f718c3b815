import type { Tree } from '../../model/collection.ts';
import type { IsoDate } from '../../model/dates.ts';
import type { FieldEvent } from '../../model/entries.ts';
import type { Crop, Ledger } from '../../model/ledger.ts';
import type { TreeEntry } from '../../model/season-entries.ts';
import { touches } from '../../model/touches.ts';
import { type Spot, spotIn } from '../../source/source-file.ts';

/** The value to point at where date and tree do not agree: a sample has no date of its own. */
export function treeOrDate({ sample, at }: TreeEntry): Spot {
  return spotIn(at, sample === undefined ? 'on' : 'tree');
}

/** Whether a tree was pruned or damaged by winter after one day and up to another. */
export function wasCutBack(ledger: Ledger, tree: Tree, after: IsoDate, upTo: IsoDate): boolean {
  return ledger.seasons.some((season) =>
    season.events.some((event) => isCut(event, after, upTo) && touches(ledger, event, tree)),
  );
}

function isCut(event: FieldEvent, after: IsoDate, upTo: IsoDate): boolean {
  const cuts = event.kind === 'prune' || event.kind === 'winter-damage';
  return cuts && event.on >= after && event.on <= upTo;
}

/** One key for a tree's crop, to group by. */
export function treeCrop(entry: {
  readonly tree: { readonly id: string };
  readonly crop: Crop;
}): string {
  return `${entry.crop} ${entry.tree.id}`;
}

/** Entries by date; those of one day as their file has them. */
export function byDateAndPlace<Entry extends { readonly on: string; readonly at: Spot }>(
  entries: Iterable<Entry>,
): Entry[] {
  return [...entries].sort((a, b) =>
    a.on < b.on ? -1 : a.on > b.on ? 1 : placeOf(a) - placeOf(b),
  );
}

/** Entries of one section as their file has them: of two that clash, the later one is questioned. */
export function inFileOrder<Entry extends { readonly at: Spot }>(
  entries: readonly Entry[],
): Entry[] {
  return entries.toSorted((a, b) => placeOf(a) - placeOf(b));
}

/** Entries that say the same as one before them in their file, each with the first that did. */
export function* repeatsIn<Entry extends { readonly at: Spot }>(
  entries: readonly Entry[],
  keyOf: (entry: Entry) => string,
): Generator<readonly [again: Entry, first: Entry]> {
  const firsts = new Map<string, Entry>();
  for (const entry of inFileOrder(entries)) {
    const key = keyOf(entry);
    const first = firsts.get(key);
    if (first === undefined) firsts.set(key, entry);
    else yield [entry, first];
  }
}

function placeOf({ at }: { readonly at: Spot }): number {
  return Number(at.path.at(-1));
}
