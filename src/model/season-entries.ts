import type { Spot } from '../source/source-file.ts';
import type { Tree } from './collection.ts';
import type { IsoDate } from './dates.ts';
import type { Crop, Sample } from './entries.ts';
import type { Season, SeasonEntries, SeasonSection } from './ledger.ts';

/** An entry of any section. */
export type SeasonEntry = SeasonEntries[SeasonSection][number];

/** The sections of a season, in the order of its file. */
function sectionsOf(season: Season): readonly (readonly [SeasonSection, readonly SeasonEntry[]])[] {
  const { at: _, year: __, ...sections } = season;
  return Object.entries<readonly SeasonEntry[]>(sections) as [
    SeasonSection,
    readonly SeasonEntry[],
  ][];
}

/** The lists of a season that hold all of its entries. */
export function listsIn(season: Season): readonly (readonly SeasonEntry[])[] {
  return sectionsOf(season).map(([, entries]) => entries);
}

/** Something seen on, taken from or done to one tree on a day. */
export interface TreeEntry {
  readonly section: SeasonSection;
  readonly tree: Tree;
  readonly on: IsoDate;
  /** Absent where it is of no crop. */
  readonly crop: Crop | undefined;
  /** Where it is the sample of a sitting. */
  readonly sample: Sample | undefined;
  readonly at: Spot;
  readonly note: string | undefined;
  readonly photo: string | undefined;
}

/** Everything in a season file that concerns one tree, section by section. */
export function* treeEntries(season: Season): Generator<TreeEntry> {
  for (const [section, entries] of sectionsOf(season)) {
    for (const entry of entries) {
      const { on, at, note, photo } = entry;
      if ('samples' in entry) {
        for (const sample of entry.samples) yield { section, on, sample, ...ofSample(sample) };
      } else if (!('target' in entry)) {
        const crop = 'crop' in entry ? entry.crop : undefined;
        yield { section, tree: entry.tree, on, crop, sample: undefined, at, note, photo };
      } else if (entry.target.kind === 'tree') {
        const { tree } = entry.target;
        yield { section, tree, on, crop: undefined, sample: undefined, at, note, photo };
      }
    }
  }
}

function ofSample({ tree, crop, at, note, photo }: Sample) {
  return { tree, crop, at, note, photo };
}
