import { cropOutlook } from '../../model/bearing.ts';
import type { Tree } from '../../model/collection.ts';
import { daysBetween, type IsoDate, parseIsoDate } from '../../model/dates.ts';
import type { Crop, Ledger } from '../../model/ledger.ts';
import { CROPS } from '../../model/ledger.ts';
import type { NewEntry } from '../new-entry.ts';
import { findCrop } from './names.ts';
import { dateInWords } from './typed-date.ts';

/** The crop that is meant where none was typed, with the reason, or undefined where two can be. */
export interface CropGuess {
  readonly crop: Crop;
  readonly why: string;
}

/** How near, in days, another entry of the tree must be to tell the crop. */
const NEAR_DAYS = 21;

/**
 * The only crop that the cultivar can set here, or else the only crop of which the tree has entries
 * within three weeks of the date.
 */
export function guessCrop(
  ledger: Ledger,
  tree: Tree,
  date: IsoDate,
  entries: readonly NewEntry[],
): CropGuess | undefined {
  const { bears, name } = tree.cultivar;
  const possible = CROPS.filter(
    (crop) => cropOutlook(bears, crop, ledger.trial.pollinator).expected,
  );
  const [only, ...others] = possible;
  if (only !== undefined && others.length === 0) {
    const other = CROPS.find((crop) => crop !== only);
    const outlook = cropOutlook(bears, other ?? only, ledger.trial.pollinator);
    const why = outlook.expected ? '' : outlook.why;
    return { crop: only, why: `only the ${only} crop of ${name} can be meant: ${why}` };
  }
  const near = nearEntries(ledger, tree, date, entries);
  const crops = new Set(near.map((one) => one.crop));
  const [first] = near;
  if (first === undefined || crops.size !== 1) return undefined;
  return {
    crop: first.crop,
    why: `the ${first.crop} crop is meant, as in the entry of ${tree.id} of ${dateInWords(first.on)}`,
  };
}

interface Seen {
  readonly on: IsoDate;
  readonly crop: Crop;
}

/** Entries of a tree near a date that name a crop, the nearest first. */
function nearEntries(
  ledger: Ledger,
  tree: Tree,
  date: IsoDate,
  entries: readonly NewEntry[],
): readonly Seen[] {
  const written = ledger.seasons
    .flatMap((season) => [...season.counts, ...season.picks, ...season.drops])
    .filter((one) => one.tree === tree)
    .map(({ on, crop }): Seen => ({ on, crop }));
  const typed = entries.flatMap((one): Seen[] => {
    if (!('crop' in one.entry) || one.entry.tree !== tree.id) return [];
    const on = parseIsoDate(one.entry.on);
    const crop = findCrop(ledger, String(one.entry.crop));
    return on === undefined || crop === undefined ? [] : [{ on, crop }];
  });
  const distance = (one: Seen) => Math.abs(daysBetween(one.on, date));
  return [...written, ...typed]
    .filter((one) => distance(one) <= NEAR_DAYS)
    .sort((a, b) => distance(a) - distance(b));
}
