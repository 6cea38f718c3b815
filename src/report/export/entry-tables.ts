import { pick } from '../../entries/pick.ts';
import { sample, tasting } from '../../entries/tasting.ts';
import { pickWeight } from '../../measure/pick-weight.ts';
import { total } from '../../measure/total.ts';
import {
  DEFECTS,
  type Order,
  type Pick,
  type Sample,
  type Score,
  type TasteWords,
  type Tasting,
} from '../../model/entries.ts';
import type { Ledger } from '../../model/ledger.ts';
import { siteOn } from '../../model/standing.ts';
import {
  cropField,
  cropFields,
  cultivarField,
  datedFields,
  entryField,
  type NumberedEntry,
  numberedEntries,
  ownColumns,
  treeField,
} from './entry-fields.ts';
import {
  column,
  defineTable,
  type ExportField,
  figureField,
  textField,
  wholeField,
} from './export-table.ts';
import { plainTable } from './plain-table.ts';

/** What follows from the fields of a pick, behind the field that it is read beside. */
const FROM_PICK = {
  weight: [
    wholeField<NumberedEntry<Pick>>(
      column('weighedSingly', 'Fruit weighed one by one; see weights.'),
      ({ entry }) => entry.weights.length,
    ),
  ],
  sample: [
    figureField<NumberedEntry<Pick>>(
      column('totalWeight', 'All fruit: together, added up, or stretched from a sample.', {
        unit: 'g',
      }),
      ({ entry }) => pickWeight(entry).total,
    ),
    textField<NumberedEntry<Pick>>(
      column('totalFrom', 'How the total was had: together, singly, stretched or unknown.'),
      ({ entry }) => pickWeight(entry).source,
    ),
  ],
  unripe: [
    wholeField<NumberedEntry<Pick>>(
      column('sound', 'Fruit without a defect.'),
      ({ entry }) => entry.fruit - total(DEFECTS, (defect) => entry.defects[defect]),
    ),
  ],
};

/** The weight of all stands before those of single fruit. */
const IN_ORDER = ['fruit', 'weight', ...Object.keys(pick.fields)].filter(
  (key, at, all) => all.indexOf(key) === at,
);

const picks = defineTable<NumberedEntry<Pick>>(
  'picks',
  'Fruit picked from a tree on a day.',
  (ledger) => numberedEntries(ledger, 'pick', ({ picks }) => picks),
  [
    entryField(),
    ...cropFields<NumberedEntry<Pick>>(),
    ...ownColumns<NumberedEntry<Pick>>(
      pick.fields,
      ({ entry }) => ({ ...pick.said(entry), ...entry.defects }),
      FROM_PICK,
      IN_ORDER,
    ),
  ],
);

interface Weighing extends NumberedEntry<Pick> {
  readonly fruit: number;
  readonly weight: number;
}

const weights = defineTable<Weighing>(
  'weights',
  'Fruit weighed one by one, a row each.',
  (ledger) =>
    numberedEntries(ledger, 'pick', ({ picks }) => picks).flatMap(({ id, entry }) =>
      entry.weights.map((weight, index) => ({ id, entry, fruit: index + 1, weight })),
    ),
  [
    entryField<Weighing>('picks.entry'),
    wholeField(column('fruit', 'Number of the fruit in its pick, from 1.'), ({ fruit }) => fruit),
    ...cropFields<Weighing>(),
    figureField(column('weight', 'Weight of the fruit.', { unit: 'g' }), ({ weight }) => weight),
    textField(
      column('sampled', 'How it was chosen: all, random or best; best is kept out of means.'),
      ({ entry }) => entry.sample,
    ),
  ],
);

export const harvestTables = [
  plainTable('counts', ({ counts }) => counts),
  picks,
  weights,
  plainTable('drops', ({ drops }) => drops),
];

const TASTINGS = 'tastings.entry';

function sittings(ledger: Ledger): readonly NumberedEntry<Tasting>[] {
  return numberedEntries(ledger, 'tasting', ({ tastings }) => tastings);
}

const tastings = defineTable<NumberedEntry<Tasting>>('tastings', 'Each sitting.', sittings, [
  entryField(),
  ...datedFields<NumberedEntry<Tasting>>(),
  wholeField(column('samples', 'Samples on the table.'), ({ entry }) => entry.samples.length),
  ...ownColumns<NumberedEntry<Tasting>>(tasting.fields, ({ entry }) => ({ ...entry })),
]);

interface Tasted extends NumberedEntry<Tasting> {
  readonly sample: Sample;
}

function samplesOf(ledger: Ledger): readonly Tasted[] {
  return sittings(ledger).flatMap((sitting) =>
    sitting.entry.samples.map((sample) => ({ ...sitting, sample })),
  );
}

/** Id of a sample: that of its tasting, and its number there. */
function sampleId({ id, entry, sample }: Tasted): string {
  return `${id.replace('tasting', 'sample')}-${entry.samples.indexOf(sample) + 1}`;
}

function sampleFields<Thing extends Tasted>(): readonly ExportField<Thing>[] {
  return [
    textField(column('sample', 'Id of the sample.', { refersTo: 'samples.sample' }), sampleId),
    entryField<Thing>(TASTINGS),
    ...datedFields<Thing>(),
    treeField(({ sample }) => sample.tree),
    cultivarField(({ sample }) => sample.tree),
    cropField(({ sample }) => sample.crop),
  ];
}

function labelField<Thing extends Tasted>(): ExportField<Thing> {
  return textField(column('label', 'How the score sheets call it.'), ({ sample }) => sample.label);
}

const samples = defineTable<Tasted>('samples', 'What was tasted.', samplesOf, [
  textField(column('sample', 'Id.'), sampleId),
  ...sampleFields<Tasted>().slice(1),
  textField(
    column('site', 'Where the tree stood that day.', { refersTo: 'sites.site' }),
    ({ entry, sample }, ledger) => siteOn(ledger, sample.tree, entry.on),
  ),
  labelField<Tasted>(),
  ...ownColumns<Tasted>(sample.fields, (one) => ({ ...one.sample })),
]);

interface Scored extends Tasted {
  readonly score: Score;
}

const scores = defineTable<Scored>(
  'scores',
  'Each score of a taster for a trait of a sample.',
  (ledger) =>
    sittings(ledger).flatMap((sitting) =>
      sitting.entry.scores.map((score) => ({ ...sitting, sample: score.sample, score })),
    ),
  [
    ...sampleFields<Scored>(),
    labelField<Scored>(),
    textField(
      column('taster', 'Taster.', { refersTo: 'tasters.taster' }),
      ({ score }) => score.taster.key,
    ),
    textField(column('trait', 'Trait.'), ({ score }) => score.trait),
    figureField(column('score', "On the ledger's scale."), ({ score }) => score.value),
  ],
);

interface Spoken extends Tasted {
  readonly by: TasteWords['taster'];
  readonly word: string;
}

const words = defineTable<Spoken>(
  'words',
  'Each word of a taster for what a sample tastes of.',
  (ledger) =>
    sittings(ledger).flatMap((sitting) =>
      sitting.entry.words.flatMap(({ taster, sample, words: list }) =>
        list.map((word) => ({ ...sitting, sample, by: taster, word })),
      ),
    ),
  [
    ...sampleFields<Spoken>(),
    labelField<Spoken>(),
    textField(column('taster', 'Taster.', { refersTo: 'tasters.taster' }), ({ by }) => by.key),
    textField(column('word', 'A word or a short phrase.'), ({ word }) => word),
  ],
);

interface Ordered extends Tasted {
  readonly order: Order;
  readonly place: number;
}

/** Places as in a race: after two in the second place comes the fourth. */
function places(sitting: NumberedEntry<Tasting>, order: Order): readonly Ordered[] {
  let before = 0;
  return order.ranks.flatMap((tied) => {
    const place = before + 1;
    before += tied.length;
    return tied.map((sample) => ({ ...sitting, sample, order, place }));
  });
}

const orders = defineTable<Ordered>(
  'orders',
  'The place of each sample in the best-first order of a taster.',
  (ledger) =>
    sittings(ledger).flatMap((sitting) =>
      sitting.entry.orders.flatMap((order) => places(sitting, order)),
    ),
  [
    ...sampleFields<Ordered>(),
    labelField<Ordered>(),
    textField(
      column('taster', 'Taster.', { refersTo: 'tasters.taster' }),
      ({ order }) => order.taster.key,
    ),
    wholeField(
      column('place', 'Place, 1 the best; after two in place 2 comes place 4.'),
      ({ place }) => place,
    ),
    wholeField(
      column('orderSize', 'Samples in the order.'),
      ({ order }) => order.ranks.flat().length,
    ),
  ],
);

export const tastingTables = [tastings, samples, scores, words, orders];
