import { groupBy } from '../measure/group-by.ts';
import { allows, type Selection } from '../measure/selection.ts';
import type { Tree } from '../model/collection.ts';
import type { IsoDate } from '../model/dates.ts';
import type { Ripeness, Sample, Tasting } from '../model/entries.ts';
import type { Crop, Ledger, Season, SeasonSection } from '../model/ledger.ts';
import { treeEntries } from '../model/season-entries.ts';
import { mean } from '../stats/describe/mean.ts';

/** What somebody wrote beside an entry. */
export interface Remark {
  readonly on: IsoDate;
  readonly season: number;
  /** `tastings` is a whole sitting. */
  readonly about: SeasonSection | 'samples';
  /** Absent where it is about a whole sitting. */
  readonly tree: Tree | undefined;
  /** Absent where it is about no crop. */
  readonly crop: Crop | undefined;
  readonly ripeness: Ripeness | undefined;
  /** Mean of all scores that the cultivar's fruit got at that sitting, for remarks from tastings. */
  readonly score: number | undefined;
  readonly text: string;
}

/**
 * The remarks of a selection of cultivars or trees, oldest first: of entries of the
 * trees, of samples, and of the sittings where one was tasted.
 */
export function remarksOf(ledger: Ledger, selection: Selection): readonly Remark[] {
  return ledger.seasons
    .filter(({ year }) => allows(selection.seasons, year))
    .flatMap((season) => [
      ...entryRemarks(season, selection),
      ...season.tastings.flatMap((tasting) => tastingRemarks(tasting, selection)),
    ])
    .toSorted((a, b) => (a.on < b.on ? -1 : a.on > b.on ? 1 : 0));
}

/**
 * At most so many remarks, oldest first: those from the best and from the worst scored sitting that
 * has any, then the latest.
 */
export function tellingRemarks(remarks: readonly Remark[], most: number): readonly Remark[] {
  if (remarks.length <= most) return remarks;
  const scored = [...groupBy(remarks, ({ on, score }) => (score === undefined ? '' : on))]
    .filter(([on]) => on !== '')
    .map(([, own]) => own)
    .toSorted((a, b) => (b[0]?.score ?? 0) - (a[0]?.score ?? 0));
  const best = scored[0]?.slice(0, 2) ?? [];
  const worst = scored.length > 1 ? (scored.at(-1)?.slice(0, 2) ?? []) : [];
  const inTurn = new Set([...best, ...worst, ...remarks.toReversed()]);
  const kept = new Set([...inTurn].slice(0, most));
  return remarks.filter((remark) => kept.has(remark));
}

function entryRemarks(season: Season, selection: Selection): readonly Remark[] {
  const untasted = { season: season.year, ripeness: undefined, score: undefined };
  return [...treeEntries(season)].flatMap(
    ({ on, section, tree, crop, sample, note }): readonly Remark[] =>
      note === undefined || sample !== undefined || !isOf(selection, tree, crop)
        ? []
        : [{ ...untasted, on, about: section, tree, crop, text: note }],
  );
}

function tastingRemarks(tasting: Tasting, selection: Selection): readonly Remark[] {
  const samples = tasting.samples.filter(({ tree, crop }) => isOf(selection, tree, crop));
  if (samples.length === 0) return [];
  const own = tasting.scores.filter(({ sample }) => samples.includes(sample));
  const base = {
    on: tasting.on,
    season: tasting.season,
    score: mean(own.map(({ value }) => value)),
  };
  const ofSample = ({ tree, crop, ripeness, note }: Sample): readonly Remark[] =>
    note === undefined ? [] : [{ ...base, about: 'samples', tree, crop, ripeness, text: note }];
  const none = { tree: undefined, crop: undefined, ripeness: undefined };
  return [
    ...samples.flatMap(ofSample),
    ...(tasting.note === undefined
      ? []
      : [{ ...base, ...none, about: 'tastings' as const, text: tasting.note }]),
  ];
}

function isOf(selection: Selection, tree: Tree, crop: Crop | undefined): boolean {
  return (
    allows(selection.cultivars, tree.cultivar.key) &&
    allows(selection.trees, tree.id) &&
    (crop === undefined || allows(selection.crops, crop))
  );
}
