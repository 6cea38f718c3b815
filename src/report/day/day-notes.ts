import type { Day, DayCrop } from '../../judge/day.ts';
import { safeFrom, sprayDiary } from '../../measure/spray-diary.ts';
import { isFig } from '../../model/bearing.ts';
import type { Ledger } from '../../model/ledger.ts';
import { note, notesInOrder } from '../common-notes.ts';
import { dayInWords } from '../day-words.ts';
import { siteName } from '../names.ts';
import { percent } from '../report-request.ts';
import type { Note } from '../table.ts';
import { listed } from '../words.ts';

interface Noted {
  readonly ledger: Ledger;
  readonly day: Day;
  /** Of the interval of a rank, a fraction. */
  readonly confidence: number;
  /** Whether the method is told at length, with sources. */
  readonly explain: boolean;
}

/** How a day is told, and what may harm whoever does the same. */
export function dayNotes({ ledger, day, explain, confidence }: Noted): Note[] {
  const plates = day.crops.flatMap((one) => one.plates);
  const isTasted = plates.some(({ tasted }) => tasted !== undefined);
  const method = explain
    ? [
        ...(isTasted ? [MARKS, PLACES, CHANCE] : []),
        `Where it stands: the index behind pomary rank, by the entries up to the end of the season before and by all of them; likely: the ${percent(confidence)} % interval of the rank.`,
        'Other years: mean fruit weight of the cultivar in other seasons at the same site, else at others. Still hanging: fruit counted less what was picked or dropped since.',
      ]
    : [
        `${isTasted ? 'Marks are plain means over the tasters. ' : ''}Standing: by the index of all seasons (see rank).`,
      ];
  return notesInOrder([
    ...method.map((text) => note('method', text)),
    ...cautions(ledger, day).map((text) => note('caution', text)),
  ]);
}

const MARKS =
  'Marks: plain means over the tasters; rank allows for harsh tasters and poor evenings.';
const PLACES =
  'Best first: by the mean over the tasters of where each put a plate, equal plates sharing their places (rank sums, ISO 8587:2006); who gave no order counts by the order of the marks. Fruit under- or overripe is left out.';
const CHANCE =
  'Agreement: W of Kendall (Kendall and Gibbons 1990), with the exact chance of as much among tasters who order at random (Friedman 1937).';

/** What may harm whoever does the same, once. */
function cautions(ledger: Ledger, { on, crops }: Day): readonly string[] {
  const plates = crops.flatMap((one) => one.plates);
  const waits = sprayDiary(ledger);
  const sprayed = new Map(
    plates.flatMap(({ tree }) => {
      const spray = waits(tree, on);
      return spray === undefined ? [] : [[tree.id, spray] as const];
    }),
  );
  const mouldy = plates.some(({ picked }) => (picked?.defects.mould ?? 0) > 0);
  const isOfFigs = isFig(ledger.trial.fruit);
  const sites = [
    ...new Set(crops.filter(({ order }) => order !== undefined).flatMap(sitesInOrder)),
  ].map((key) => siteName(ledger, key));
  return [
    ...(sites.length > 1
      ? [`What was put in order came from ${listed(sites)}: what tells it apart may be the site.`]
      : []),
    ...(isOfFigs
      ? ['Fig sap burns skin in sunlight, and fig can bring on allergy: cover up, wash it off.']
      : []),
    ...(mouldy ? ['Some of it was mouldy: do not taste mouldy or soured fruit.'] : []),
    ...[...sprayed].map(
      ([id, spray]) =>
        `${id} was sprayed with ${spray.product} on ${dayInWords(spray.on)}: not to be eaten before ${dayInWords(safeFrom(spray))}; the label comes first.`,
    ),
  ];
}

/** Keys of the sites whose plates were put in order, if there are several for one crop. */
function sitesInOrder({ plates }: DayCrop): readonly string[] {
  const placed = plates.filter(({ tasted }) => tasted?.place !== undefined);
  const sites = [...new Set(placed.map(({ site }) => site))];
  return sites.length > 1 ? sites : [];
}
