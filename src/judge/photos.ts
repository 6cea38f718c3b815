import { allows, type Selection } from '../measure/selection.ts';
import type { Tree } from '../model/collection.ts';
import type { IsoDate } from '../model/dates.ts';
import type { Crop, Ledger, SeasonSection } from '../model/ledger.ts';
import { photoInside } from '../model/photo-path.ts';
import { treeEntries } from '../model/season-entries.ts';

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

/** What a photo shows that is not the tree; of a photo that several entries name, the first of these tells. */
const SEEN: Readonly<Partial<Record<SeasonSection, TreePhoto['what']>>> = {
  tastings: 'plate',
  picks: 'pick',
  counts: 'count',
  drops: 'drop',
};

function placeOf(section: SeasonSection): number {
  const place = Object.keys(SEEN).indexOf(section);
  return place < 0 ? Object.keys(SEEN).length : place;
}

/** The photos of a selection of cultivars and trees, oldest first, each once. */
export function treePhotos(ledger: Ledger, selection: Selection): readonly TreePhoto[] {
  const found = ledger.seasons
    .filter(({ year }) => allows(selection.seasons, year))
    .flatMap((season) =>
      [...treeEntries(season)].toSorted((a, b) => placeOf(a.section) - placeOf(b.section)),
    );
  const told = new Map<string, TreePhoto>();
  for (const { photo, on, tree, crop, section } of found) {
    const path = photo === undefined ? undefined : photoInside(photo);
    if (path === undefined || told.has(path)) continue;
    if (!allows(selection.cultivars, tree.cultivar.key) || !allows(selection.trees, tree.id))
      continue;
    if (crop !== undefined && !allows(selection.crops, crop)) continue;
    told.set(path, { path, on, tree, crop, what: SEEN[section] ?? 'tree' });
  }
  return [...told.values()].toSorted((a, b) => (a.on < b.on ? -1 : a.on > b.on ? 1 : 0));
}
