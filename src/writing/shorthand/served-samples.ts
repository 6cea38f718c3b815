import type { Tree } from '../../model/collection.ts';
import type { IsoDate } from '../../model/dates.ts';
import type { Crop, Ledger } from '../../model/ledger.ts';
import type { NewEntry } from '../new-entry.ts';
import type { LineReading } from './line-reading.ts';
import { findCrop } from './names.ts';

/** A sample that stands on the table of the day. */
export interface Served {
  readonly label: string;
  readonly tree: string;
  readonly crop: Crop;
}

/** The samples of the day, written down or typed before. */
export function served({ ledger, before, date }: LineReading): readonly Served[] {
  return [...servedInLedger(ledger, date), ...servedBefore(ledger, before, date)].filter(
    (one, index, all) => all.findIndex((other) => same(one, other)) === index,
  );
}

function same(a: Served, b: Served): boolean {
  return a.label === b.label && a.tree === b.tree && a.crop === b.crop;
}

function servedInLedger(ledger: Ledger, date: IsoDate): readonly Served[] {
  return ledger.seasons
    .flatMap((season) => season.tastings)
    .filter((tasting) => tasting.on === date)
    .flatMap((tasting) => tasting.samples)
    .map(({ label, tree, crop }) => ({ label, tree: tree.id, crop }));
}

function servedBefore(
  ledger: Ledger,
  before: readonly NewEntry[],
  date: IsoDate,
): readonly Served[] {
  return before.flatMap((one) =>
    one.section !== 'tastings' || one.entry.on !== date
      ? []
      : one.entry.samples.flatMap((sample): Served[] => {
          const crop = findCrop(ledger, String(sample.crop));
          const tree = String(sample.tree);
          return crop === undefined ? [] : [{ label: String(sample.as ?? tree), tree, crop }];
        }),
  );
}

/** The crop under which a tree was served that day, if it was only one. */
export function servedCrop(reading: LineReading, tree: Tree | undefined): Crop | undefined {
  if (tree === undefined) return undefined;
  const crops = new Set(
    served(reading)
      .filter((one) => one.tree === tree.id)
      .map((one) => one.crop),
  );
  const [only, ...others] = crops;
  return others.length === 0 ? only : undefined;
}
