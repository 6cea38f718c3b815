import type { Tree } from '../../model/collection.ts';
import type { IsoDate } from '../../model/dates.ts';
import type { Crop, Ledger } from '../../model/ledger.ts';
import type { NewEntry } from '../new-entry.ts';
import type { Values } from './fields.ts';
import { type LineReading, settleCrop, slip, treeOf } from './line-reading.ts';
import { findCrop, findTree } from './names.ts';
import type { Token } from './tokens.ts';

/** A plate of the day: what it is called on the sheets, and its tree and crop. */
export interface Plate {
  readonly label: string;
  readonly sample: Values;
}

/** What a word may name: a plate that stands on the table of the day, or a tree. */
export type Named =
  | { readonly kind: 'plate'; readonly plate: Plate; readonly crop: Crop }
  | { readonly kind: 'tree'; readonly tree: Tree };

/** A plate by the code it was served under that day, or else a tree; undefined with a slip or a question. */
export function namedBy(
  reading: LineReading,
  token: Token,
  crop: Crop | undefined,
): Named | undefined {
  const byLabel = served(reading).filter(
    (one) => one.label === token.text && (crop === undefined || one.crop === crop),
  );
  const [only] = byLabel;
  if (only !== undefined && byLabel.length === 1) {
    const { label, tree, crop: its } = only;
    const sample = label === tree ? { tree, crop: its } : { tree, crop: its, as: label };
    const other = label === tree ? undefined : reading.ledger.trees.get(label);
    if (other !== undefined) {
      const advice = `for the tree, type the name of its cultivar; else give plates codes that are no trees`;
      slip(
        reading,
        token,
        `${label} is a tree, and the code of a plate of ${tree} that day`,
        advice,
      );
      return undefined;
    }
    return { kind: 'plate', plate: { label, sample }, crop: its };
  }
  if (/^\d+$/.test(token.text) && findTree(reading.ledger, token.text).kind === 'none') {
    const [tree = 'A1'] = reading.ledger.trees.keys();
    const advice = `say once what the code stands for, as in taste ${tree} main as ${token.text}`;
    slip(reading, token, `${token.text} is neither a tree nor a code of that day`, advice);
    return undefined;
  }
  const tree = treeOf(reading, token);
  return tree && { kind: 'tree', tree };
}

/** The plate that is named, its crop as typed, as served that day, or the only one that can be meant. */
export function plateOf(
  reading: LineReading,
  named: Named | undefined,
  crop: Crop | undefined,
  after?: Token,
): Plate | undefined {
  if (named === undefined) return undefined;
  if (named.kind === 'plate') return named.plate;
  const { tree } = named;
  const settled = settleCrop(reading, crop ?? servedCrop(reading, tree), tree, after);
  return settled && { label: tree.id, sample: { tree: tree.id, crop: settled } };
}

/** A sample that stands on the table of the day. */
interface Served {
  readonly label: string;
  readonly tree: string;
  readonly crop: Crop;
}

/** The samples of the day, written down or typed before. */
function served({ ledger, before, date }: LineReading): readonly Served[] {
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
function servedCrop(reading: LineReading, tree: Tree | undefined): Crop | undefined {
  if (tree === undefined) return undefined;
  const crops = new Set(
    served(reading)
      .filter((one) => one.tree === tree.id)
      .map((one) => one.crop),
  );
  const [only, ...others] = crops;
  return others.length === 0 ? only : undefined;
}
