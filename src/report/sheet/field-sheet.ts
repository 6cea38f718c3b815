import { eitherOf as oneOf } from '../../entries/values.ts';
import { fruitLeft } from '../../judge/lineup/fruit-left.ts';
import { cropRecords } from '../../measure/crop-record.ts';
import { groupBy } from '../../measure/group-by.ts';
import { oldestFirst } from '../../measure/load.ts';
import { type PickWindow, pickWindows, sameDayIn } from '../../measure/pick-window.ts';
import { safeFrom, sprayDiary } from '../../measure/spray-diary.ts';
import { cropOutlook } from '../../model/bearing.ts';
import type { Tree } from '../../model/collection.ts';
import { addDays, type IsoDate, seasonOf } from '../../model/dates.ts';
import { type Count, DEFECTS } from '../../model/entries.ts';
import { CROPS, type Crop, type Ledger } from '../../model/ledger.ts';
import { bareUnit } from '../../model/quantity.ts';
import { mayStandOn, siteOn } from '../../model/standing.ts';
import { note } from '../common-notes.ts';
import { dayAndYear, dayInWords, shortDay } from '../day-words.ts';
import {
  BLANK,
  type Document,
  type Fact,
  type FormBlock,
  type FormBox,
  type FormRecord,
  type JsonValue,
  paragraph,
  type Section,
} from '../document.ts';
import { cultivarName } from '../names.ts';
import type { Note } from '../table.ts';
import { listed } from '../words.ts';
import { knownOf } from './sheet-known.ts';

export interface SheetRequest {
  readonly on: IsoDate;
  /** Keys; empty asks for all. */
  readonly sites: readonly string[];
}

/** A sheet to print, carry out and fill in: the trees that stand on a day, by site, with what is due. */
export function fieldSheet(ledger: Ledger, { on, sites }: SheetRequest): Document {
  const season = seasonOf(on, ledger.trial.place.latitude);
  const standing = ledger.walk.filter((tree) => mayStandOn(tree, on));
  const toRecord = recordsOf(ledger, on, season);
  const { trial } = ledger;
  const title = `Field sheet for ${dayAndYear(on)}`;
  const file = `seasons/${String(season).padStart(4, '0')}.yaml`;
  const weightUnit = bareUnit(trial.units, 'weight');
  const shown = [...trial.sites.values()]
    .filter(({ key }) => sites.length === 0 || sites.includes(key))
    .map(({ key, name }) => ({
      ...{ key, name },
      trees: standing.filter((tree) => siteOn(ledger, tree, on) === key).map(toRecord),
    }))
    .filter(({ trees }) => trees.length > 0);
  const boxes = boxesOf(weightUnit);
  const notes = [...RULES.map((text) => note('method', text)), ...cautions(ledger)];
  return {
    report: 'sheet',
    title,
    ledgerTitle: trial.title,
    selection: { on, site: shown.map(({ key }) => key) },
    paper: 'landscape',
    says: {
      ...{ title, file, weightUnit },
      sites: shown.map(({ key, name, trees }) => ({ site: key, name, trees: trees.map(treeSaid) })),
      notes: notes.map(({ kind, text }) => ({ kind, text })),
    },
    sections: [
      {
        key: 'rules',
        heading: '',
        blocks: [
          { kind: 'facts', facts: WHO },
          { kind: 'notes', notes },
        ],
      },
      ...shown.map(({ key, name, trees }, at): Section => {
        const caption = `${name}, ${dayAndYear(on)}`;
        const form: FormBlock = { kind: 'form', caption, ...FORM, boxes, records: trees };
        return { key: `site ${key}`, heading: name, isNewPage: at > 0, blocks: [form] };
      }),
      {
        key: 'file',
        heading: '',
        blocks: [
          ...(shown.length === 0 ? [paragraph('No tree stands there on that day.')] : []),
          paragraph(`Afterwards it goes into ${file}.`),
        ],
      },
    ],
    notes: [],
  };
}

function recordsOf(ledger: Ledger, on: IsoDate, season: number): (tree: Tree) => FormRecord {
  const sprayOver = sprayDiary(ledger);
  const lines = sheetLines(ledger, on, season);
  const known = knownOf(ledger, on, season);
  return (tree) => {
    const spray = sprayOver(tree, on);
    const unit = known.girthDue(tree);
    return {
      id: tree.id,
      name: cultivarName(ledger, tree.cultivar),
      aside: known.container(tree),
      barred:
        spray === undefined
          ? undefined
          : `Do not pick or taste until ${dayInWords(safeFrom(spray))}: ${spray.product}, sprayed ${dayInWords(spray.on)}.`,
      known: known.facts(tree),
      own: unit === undefined ? undefined : { label: 'girth', unit },
      lines: lines(tree),
    };
  };
}

/** A tree for programs; what is not known is null. */
function treeSaid({ id, name, aside, barred, known, own, lines }: FormRecord): JsonValue {
  return {
    tree: id,
    cultivar: name,
    stands: aside ?? null,
    wait: barred ?? null,
    known,
    girthDue: own?.unit ?? null,
    due: lines.map(({ label, due }) => ({ crop: label === '' ? null : label, due })),
  };
}

const FORM = { record: 'Tree', name: 'Cultivar', line: 'Crop' } as const;

const WHO: readonly Fact[] = ['By', 'Weather'].map((label) => ({ label, text: BLANK.repeat(5) }));

function boxesOf(weightUnit: string): readonly FormBox[] {
  const hanging = { group: 'On the tree', room: 'some', isBarred: false } as const;
  const picked = { group: 'Picked', room: 'some', isBarred: true } as const;
  const each = `${weightUnit} each`;
  return [
    { ...hanging, label: 'hanging', inGroup: 'Fruit' },
    { ...hanging, label: 'branches', inGroup: 'Branches' },
    { ...picked, label: 'picked', inGroup: 'Fruit' },
    { ...picked, label: `weights, ${each}`, inGroup: `Weights, ${each}`, room: 'much' },
    ...DEFECTS.map(
      (label): FormBox => ({
        ...{ ...picked, group: 'Of the picked', room: 'few' },
        ...{ label, inGroup: label },
      }),
    ),
  ];
}

const RULES: readonly string[] = [
  'Count what hangs before you pick. Write 0 where there is nothing; a blank is not a 0.',
  `A spoiled fruit counts once, under the worst: ${oneOf(DEFECTS)}.`,
];

function cautions(ledger: Ledger): readonly Note[] {
  const isFig = /\bfig/i.test(ledger.trial.fruit);
  return [
    'Ladder: firm ground, both hands, and somebody within call.',
    isFig
      ? 'Fig sap burns skin in sunlight: sleeves and gloves. Keep off with an allergy to latex or fig.'
      : 'Keep off with an allergy to this fruit.',
    'Sprayed trees: wait as long as the label says. Only sprays in the ledger are known here.',
    'Taste nothing mouldy or soured.',
  ].map((text) => note('caution', text));
}

/** The calendar of past picks is read this many days wider at both ends; common practice, no source. */
const WINDOW_SLACK = 7;
/** The calendar of past counts is read this many days wider; common practice, no source. */
const COUNT_SLACK = 14;
/** A pick so many days ago still says that fruit is ripe; common practice, no source. */
const RECENT_DAYS = 10;

/**
 * Looks up what is due for each crop of a tree on a day, a sentence each; entries after the day are
 * not looked at. Where nothing is due, one line is for whatever turns up, its crop to be written in.
 */
function sheetLines(
  ledger: Ledger,
  on: IsoDate,
  season: number,
): (tree: Tree) => FormRecord['lines'] {
  const windows = pickWindows(ledger, season);
  const isCountDue = countDue(ledger, on, season);
  const now = ledger.seasons.find(({ year }) => year === season);
  const isOneYear = seasonOf(`${season}-12-31` as IsoDate, ledger.trial.place.latitude) === season;
  const inSeasons = (seasons: readonly number[]) =>
    `${isOneYear ? '' : seasons.length === 1 ? 'season ' : 'seasons '}${listed(seasons.map(String))}`;
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
        ...pickingWords({ on, window, left, picked, inSeasons }),
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
  /** Seasons in words, which are not calendar years everywhere. */
  readonly inSeasons: (seasons: readonly number[]) => string;
}

/** Whether fruit may be ripe, and why; nothing where none can be left. */
function pickingWords({ on, window, left, picked, inSeasons }: Ripening): string[] {
  if (left !== undefined && left <= 0) return [];
  const words: string[] = [];
  if (window !== undefined && isAbout(window, on)) {
    const whose = window.from === 'tree' ? '' : 'others of its cultivar ';
    const days = [...new Set([shortDay(window.first), shortDay(window.last)])].join(' to ');
    words.push(`Ripe? ${whose}picked ${days} in ${inSeasons(window.seasons)}.`);
  }
  const isRecent = picked !== undefined && picked >= addDays(on, -RECENT_DAYS);
  if (isRecent) words.push(`Last picked ${shortDay(picked)}.`);
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
