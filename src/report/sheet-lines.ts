import { fruitLeft } from '../judge/lineup/fruit-left.ts';
import { cropRecords } from '../measure/crop-record.ts';
import { groupBy } from '../measure/group-by.ts';
import { oldestFirst } from '../measure/load.ts';
import { type PickWindow, pickWindows, sameDayIn } from '../measure/pick-window.ts';
import { cropOutlook } from '../model/bearing.ts';
import type { Tree } from '../model/collection.ts';
import { addDays, type IsoDate } from '../model/dates.ts';
import type { Count } from '../model/entries.ts';
import { CROPS, type Crop, type Ledger } from '../model/ledger.ts';
import type { FormRecord } from './document.ts';
import { listed } from './words.ts';

/** The calendar of past picks is read this many days wider at both ends; common practice, no source. */
export const WINDOW_SLACK = 7;
/** The calendar of past counts is read this many days wider; common practice, no source. */
export const COUNT_SLACK = 14;
/** A pick so many days ago still says that fruit is ripe; common practice, no source. */
const RECENT_DAYS = 10;

/**
 * Looks up what is due for each crop of a tree on a day, a sentence each; entries after the day are
 * not looked at. Where nothing is due, one line is for whatever turns up, its crop to be written in.
 */
export function sheetLines(
  ledger: Ledger,
  on: IsoDate,
  season: number,
): (tree: Tree) => FormRecord['lines'] {
  const windows = pickWindows(ledger, season);
  const isCountDue = countDue(ledger, on, season);
  const now = ledger.seasons.find(({ year }) => year === season);
  return (tree) => {
    const lines = CROPS.flatMap((crop) => {
      const window = windows(tree, crop);
      const left = fruitLeft(now, tree, crop, on);
      const picked = (now?.picks ?? [])
        .filter((pick) => pick.tree === tree && pick.crop === crop && pick.on <= on)
        .map((pick) => pick.on)
        .toSorted()
        .at(-1);
      const due = [
        ...(isCountDue(tree, crop, window) ? ['Count fruit and branches.'] : []),
        ...pickingWords({ on, window, left, picked }),
      ];
      return due.length === 0 ? [] : [{ label: ledger.trial.cropNames[crop], due }];
    });
    return lines.length === 0 ? [{ label: '', due: [] }] : lines;
  };
}

interface Ripening {
  readonly on: IsoDate;
  readonly window: PickWindow | undefined;
  /** Fruit that should still hang, where it was counted. */
  readonly left: number | undefined;
  /** Last pick of this season. */
  readonly picked: IsoDate | undefined;
}

/** Whether fruit may be ripe, and why; nothing where none can be left. */
function pickingWords({ on, window, left, picked }: Ripening): string[] {
  if (left !== undefined && left <= 0) return [];
  const words: string[] = [];
  if (window !== undefined && isAbout(window, on)) {
    const whose = window.from === 'tree' ? '' : 'others of its cultivar ';
    const days = [...new Set([window.first.slice(5), window.last.slice(5)])].join(' to ');
    words.push(`Ripe? ${whose}picked ${days} in ${listed(window.seasons.map(String))}.`);
  }
  const isRecent = picked !== undefined && picked >= addDays(on, -RECENT_DAYS);
  if (isRecent) words.push(`Last picked ${picked}.`);
  if (left !== undefined && words.length > 0) words.push(`About ${left} left.`);
  return words;
}

function isAbout({ first, last }: PickWindow, on: IsoDate): boolean {
  return on >= addDays(first, -WINDOW_SLACK) && on <= addDays(last, WINDOW_SLACK);
}

/**
 * A count is due for a crop that the tree has borne or should bear, if none was made this season,
 * about the time of year that trees were first counted for that crop, two weeks before and after;
 * where the tree has a picking time, until that is over. Where no crop was ever counted, at any time.
 */
function countDue(ledger: Ledger, on: IsoDate, season: number) {
  const borne = new Set(
    cropRecords(ledger)
      .filter((record) => record.season < season && record.load.fruit > 0)
      .map(keyOf),
  );
  const counts = ledger.seasons.flatMap((one) => one.counts);
  const done = new Set(
    counts.filter((count) => count.season === season && count.on <= on).map(keyOf),
  );
  const past = counts.filter((count) => count.season < season);
  const time = {
    early: countingTime(
      past.filter(({ crop }) => crop === 'early'),
      season,
    ),
    main: countingTime(
      past.filter(({ crop }) => crop === 'main'),
      season,
    ),
  };
  const { pollinator } = ledger.trial;
  return (tree: Tree, crop: Crop, window: PickWindow | undefined): boolean => {
    const key = keyOf({ tree, crop });
    const bears = borne.has(key) || cropOutlook(tree.cultivar.bears, crop, pollinator).expected;
    if (!bears || done.has(key)) return false;
    const { first, last } = time[crop] ?? {};
    const end = window === undefined ? last : addDays(window.last, WINDOW_SLACK);
    return (first === undefined || on >= first) && (end === undefined || on <= end);
  };
}

function keyOf({ tree, crop }: { readonly tree: Tree; readonly crop: Crop }): string {
  return `${crop} ${tree.id}`;
}

/** From the first to the last of the days on which trees were first counted in a season. */
function countingTime(
  counts: readonly Count[],
  season: number,
): { readonly first: IsoDate; readonly last: IsoDate } | undefined {
  const days = [...groupBy(counts, (count) => `${count.season} ${count.tree.id}`).values()]
    .flatMap((own) => oldestFirst(own)[0] ?? [])
    .map((count) => sameDayIn(count.on, season - count.season))
    .toSorted();
  const [first, last] = [days[0], days.at(-1)];
  if (first === undefined || last === undefined) return undefined;
  return { first: addDays(first, -COUNT_SLACK), last: addDays(last, COUNT_SLACK) };
}
