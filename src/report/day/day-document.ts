import { type Day, type DayCrop, type DayPlate, dayOf } from '../../judge/day.ts';
import type { IsoDate } from '../../model/dates.ts';
import type { Ledger } from '../../model/ledger.ts';
import { photoInside } from '../../model/photo-path.ts';
import { countColumn, numberColumn, textColumn } from '../columns.ts';
import { cropHeading } from '../crop-words.ts';
import { dayInWords } from '../day-words.ts';
import type { Block, Document, Fact, Section } from '../document.ts';
import { cultivarName, siteName } from '../names.ts';
import { photoBlock } from '../photo-words.ts';
import { percent } from '../report-request.ts';
import { knownOf } from '../sheet/sheet-known.ts';
import type { Column, Row } from '../table.ts';
import { counted, sentence } from '../words.ts';
import { dayNotes } from './day-notes.ts';
import {
  agreementWords,
  cropSaid,
  firstWords,
  growingWords,
  hangingWords,
  orderWords,
  pickedWords,
  plateAside,
  plateName,
  RIPENESS_WORDS,
  type Standings,
  standingsBefore,
  standingsNow,
  standingWords,
  type TasterNaming,
  tasterWords,
} from './day-told.ts';
import { hangingSection } from './hanging-section.ts';

export interface DayRequest {
  readonly on: IsoDate;
  /** Of the interval of a rank, a fraction. */
  readonly confidence: number;
  readonly naming: TasterNaming;
  /** Whether the notes tell the method at length, with sources. */
  readonly explain: boolean;
}

/** What the plates of a day are told with. */
interface Told extends DayRequest {
  readonly ledger: Ledger;
  readonly day: Day;
  readonly now: Standings;
  /** Absent where no season went before. */
  readonly before: Standings | undefined;
}

/** What was picked and tasted on a day: best first, crops apart. */
export function dayDocument(ledger: Ledger, request: DayRequest): Document {
  const { on, confidence } = request;
  const day = dayOf(ledger, on);
  const crops = day.crops.map(({ crop }) => crop);
  const told: Told = {
    ...request,
    ledger,
    day,
    now: standingsNow(ledger, crops, confidence),
    before: standingsBefore(ledger, day.season, crops, confidence),
  };
  const place = ledger.trial.place.name;
  return {
    report: 'day',
    title: [`${dayInWords(on)} ${on.slice(0, 4)}`, place ?? '']
      .filter((part) => part !== '')
      .join(', '),
    ledgerTitle: ledger.trial.title,
    selection: { on, confidence: percent(confidence) },
    sections: [
      sittingSection(told),
      ...day.crops.map((one) => cropSection(told, one)),
      ...hangingSection(ledger, day),
    ],
    notes: dayNotes(told),
  };
}

/** What the whole table had in common: what was noted, who tasted, and whether blind. */
function sittingSection({ day, naming }: Told): Section {
  const { sittings } = day;
  const notes = sittings.flatMap(({ note }) => note ?? []);
  const tasters = [
    ...new Set(
      sittings.flatMap(({ scores, orders, words }) =>
        [...scores, ...orders, ...words].map(({ taster }) => taster),
      ),
    ),
  ];
  const samples = sittings.flatMap((one) => one.samples);
  const isBlind = samples.length > 0 && samples.every(({ label, tree }) => label !== tree.id);
  const who =
    sittings.length === 0
      ? 'Picked, and nothing tasted.'
      : `${tasters.length === 0 ? 'Nobody scored anything' : sentence(tasterWords(tasters, naming))}${isBlind ? ', blind' : ''}.`;
  return {
    key: 'sitting',
    heading: '',
    blocks: [
      { kind: 'paragraph', text: [[...notes.map(ended), who].join(' ')] },
      ...sittings.flatMap(({ photo }): Block[] => {
        const path = photo === undefined ? undefined : photoInside(photo);
        return path === undefined
          ? []
          : [{ kind: 'photo', photo: { path, alt: `The table on ${dayInWords(day.on)}` } }];
      }),
    ],
    says: {
      sittings: sittings.length,
      notes,
      tasters: tasters.length,
      names: naming === 'names' ? tasters.map(({ name }) => name) : null,
      blind: isBlind,
    },
  };
}

/** A sentence has an end. */
function ended(text: string): string {
  return /[.!?…]$/.test(text) ? text : `${text}.`;
}

function cropSection(told: Told, one: DayCrop): Section {
  const { ledger } = told;
  const tasted = one.plates.filter((plate) => plate.tasted !== undefined);
  const picked = one.plates.filter((plate) => plate.tasted === undefined);
  const heading = cropHeading(ledger, one.crop);
  return {
    key: one.crop,
    heading: `${heading}, ${
      tasted.length > 0
        ? `${tasted.length} on the plate`
        : `picked from ${counted(picked.length, 'tree')}`
    }`,
    blocks: [
      ...(tasted.length === 0 ? [] : tastedBlocks(told, one, tasted)),
      ...(picked.length === 0
        ? []
        : [
            ...(tasted.length === 0 ? [] : [{ kind: 'subheading', text: 'Picked too' } as const]),
            { kind: 'facts', facts: picked.map((plate) => pickedFact(told, plate)) } as const,
            ...picked.flatMap((plate) => photoBlocks(told, plate)),
          ]),
    ],
    says: cropSaid(told, one),
  };
}

function tastedBlocks(told: Told, one: DayCrop, tasted: readonly DayPlate[]): Block[] {
  const order = orderSentences(told, one, tasted);
  return [
    ...(order === '' ? [] : [{ kind: 'paragraph', text: [order] } as const]),
    ...marksBlock(told, tasted),
    ...tasted.flatMap((plate): Block[] => [
      {
        kind: 'subheading',
        text: cultivarName(told.ledger, plate.tree.cultivar),
        aside: plateAside(told.ledger, plate),
      },
      ...photoBlocks(told, plate),
      { kind: 'lines', lines: plateLines(told, one, plate).map((line) => [line]) },
    ]),
  ];
}

/** The order of the day, whether it can be told from luck, and what does not count. */
function orderSentences({ ledger }: Told, { order }: DayCrop, tasted: readonly DayPlate[]): string {
  const unripe = tasted.filter((plate) => plate.tasted?.ripeness !== 'ripe');
  const ripe = tasted.length - unripe.length;
  const left = unripe.map(
    (plate) =>
      `${plateName(ledger, plate, tasted)} was ${RIPENESS_WORDS[plate.tasted?.ripeness ?? 'ripe']} and does not count.`,
  );
  const ordered =
    order !== undefined
      ? [`Best first: ${orderWords(ledger, tasted)}`, agreementWords(order)]
      : tasted.length === 1
        ? []
        : [
            ripe === 0
              ? 'None was ripe, so there is no order.'
              : ripe === 1
                ? 'Only one was ripe, so there is no order.'
                : 'Nobody put them in order.',
          ];
  return [...ordered, ...left].join(' ');
}

/** The marks side by side; absent where there are none. */
function marksBlock({ ledger }: Told, tasted: readonly DayPlate[]): Block[] {
  const rows = tasted.map((plate): Row => {
    const { place, ripeness, scores, brix, eye } = plate.tasted ?? { scores: new Map() };
    const name = plateName(ledger, plate, tasted);
    return {
      place: place?.place ?? null,
      cultivar:
        ripeness === undefined || ripeness === 'ripe'
          ? name
          : `${name}, ${RIPENESS_WORDS[ripeness]}`,
      ...Object.fromEntries(ledger.trial.traits.map((one) => [one, scores.get(one) ?? null])),
      brix: brix ?? null,
      eye: eye ?? null,
    };
  });
  const columns: readonly Column[] = [
    countColumn('place', { label: 'Place', drop: 0 }),
    textColumn('cultivar', { label: 'Cultivar', drop: 0 }),
    ...ledger.trial.traits.map((trait, at) =>
      numberColumn(trait, 1, { label: sentence(trait), drop: 1 + at }),
    ),
    numberColumn('brix', 1, { label: 'Brix', drop: 20 }),
    numberColumn('eye', 1, { label: 'Eye', unit: 'mm', drop: 21 }),
  ];
  const filled = columns.filter(({ key }) => rows.some((row) => (row[key] ?? null) !== null));
  if (filled.length < 2) return [];
  const { low, high } = ledger.trial.scale;
  const caption = `Marks, ${low} to ${high}`;
  return [{ kind: 'table', caption, table: { columns: filled, rows }, ifEmpty: '', notes: [] }];
}

function plateLines(told: Told, { order }: DayCrop, plate: DayPlate): readonly string[] {
  const { ledger, day, naming } = told;
  const words = (plate.tasted?.words ?? []).map(
    ({ word, tasters }) => `${word} (${tasterWords(tasters, naming)})`,
  );
  return [
    pickedWords(plate),
    firstWords(plate, order, naming),
    words.length === 0 ? '' : sentence(`${words.join(', ')}.`),
    quoted(plate),
    standing(told, plate),
    hangingWords(plate),
    growingWords(ledger, plate, knownOf(ledger, day.on, day.season).container(plate.tree)),
  ].filter((line) => line !== '');
}

function standing({ now, before }: Told, { crop, tree }: DayPlate): string {
  const { cultivar } = tree;
  return standingWords(before?.(crop, cultivar), now(crop, cultivar), before !== undefined);
}

function quoted({ notes }: DayPlate): string {
  return notes.map((text) => `"${ended(text)}"`).join(' ');
}

/** "Gull's Supper, F1: 2 picked, 46 g each. 1 pecked by birds. About 14 still hanging." */
function pickedFact(told: Told, plate: DayPlate): Fact {
  const { ledger } = told;
  const { tree, site } = plate;
  return {
    label: cultivarName(ledger, tree.cultivar),
    text: [
      `${tree.id}, ${siteName(ledger, site)}:`,
      pickedWords(plate),
      hangingWords(plate),
      standing(told, plate),
      quoted(plate),
    ]
      .filter((part) => part !== '')
      .join(' '),
  };
}

function photoBlocks({ ledger, day }: Told, { tree, crop, photos }: DayPlate): Block[] {
  return photos.map((photo) => photoBlock(ledger, { ...photo, on: day.on, tree, crop }));
}
