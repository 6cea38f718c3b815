import { allows, type Selection } from '../measure/selection.ts';
import type { Tree } from '../model/collection.ts';
import type { IsoDate } from '../model/dates.ts';
import type { Crop, Ledger } from '../model/ledger.ts';
import { photoInside } from '../model/photo-path.ts';

/** A photo of a tree's fruit, or of the tree. */
export interface TreePhoto {
  /** Inside the ledger, with slashes; one that leads out of it is not told. */
  readonly path: string;
  readonly on: IsoDate;
  readonly tree: Tree;
  /** Absent where it is of no crop. */
  readonly crop: Crop | undefined;
  readonly what: 'plate' | 'pick' | 'count' | 'drop' | 'tree';
}

/** The photos of a selection of cultivars and trees, oldest first, each once. */
export function treePhotos(ledger: Ledger, selection: Selection): readonly TreePhoto[] {
  const found = ledger.seasons
    .filter(({ year }) => allows(selection.seasons, year))
    .flatMap(({ counts, picks, drops, tastings, growth, events }) => [
      ...tastings.flatMap(({ on, samples }) =>
        samples.map((sample) => ({ ...sample, on, what: 'plate' as const })),
      ),
      ...picks.map((pick) => ({ ...pick, what: 'pick' as const })),
      ...counts.map((count) => ({ ...count, what: 'count' as const })),
      ...drops.map((drop) => ({ ...drop, what: 'drop' as const })),
      ...growth.map((one) => ({ ...one, crop: undefined, what: 'tree' as const })),
      ...events.flatMap(({ target, on, photo }) =>
        target.kind === 'tree'
          ? [{ tree: target.tree, on, photo, crop: undefined, what: 'tree' as const }]
          : [],
      ),
    ]);
  const told = new Map<string, TreePhoto>();
  for (const { photo, on, tree, crop, what } of found) {
    const path = photo === undefined ? undefined : photoInside(photo);
    if (path === undefined || told.has(path)) continue;
    if (!allows(selection.cultivars, tree.cultivar.key) || !allows(selection.trees, tree.id))
      continue;
    if (crop !== undefined && !allows(selection.crops, crop)) continue;
    told.set(path, { path, on, tree, crop, what });
  }
  return [...told.values()].toSorted((a, b) => (a.on < b.on ? -1 : a.on > b.on ? 1 : 0));
}
