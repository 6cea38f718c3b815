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
  ownColumns,
  type Placed,
  placed,
  treeField,
} from './entry-fields.ts';
import { column, defineTable, type Field, figure, text, whole } from './export-table.ts';
import { plainTable } from './plain-table.ts';

/** What follows from the fields of a pick, behind the field that it is read beside. */
const FROM_PICK = {
  weight: [
    whole<Placed<Pick>>(
      column('weighedSingly', 'Fruit weighed one by one; see weights.'),
      ({ entry }) => entry.weights.length,
    ),
  ],
  sample: [
    figure<Placed<Pick>>(
      column('totalWeight', 'All fruit: together, added up, or stretched from a sample.', {
        unit: 'g',
      }),
      ({ entry }) => pickWeight(entry).total,
    ),
    text<Placed<Pick>>(
      column('totalFrom', 'How the total was had: together, singly, stretched or unknown.'),
      ({ entry }) => pickWeight(entry).source,
    ),
  ],
  unripe: [
    whole<Placed<Pick>>(
      column('sound', 'Fruit without a defect.'),
      ({ entry }) => entry.fruit - total(DEFECTS, (defect) => entry.defects[defect]),
    ),
  ],
};

/** The weight of all stands before those of single fruit. */
const IN_ORDER = ['fruit', 'weight', ...Object.keys(pick.fields)].filter(
  (key, at, all) => all.indexOf(key) === at,
);

const picks = defineTable<Placed<Pick>>(
  'picks',
  'Fruit picked from a tree on a day.',
  (ledger) => placed(ledger, 'pick', ({ picks }) => picks),
  [
    entryField(),
    ...cropFields<Placed<Pick>>(),
    ...ownColumns<Placed<Pick>>(
      pick.fields,
      ({ entry }) => ({ ...pick.said(entry), ...entry.defects }),
      FROM_PICK,
      IN_ORDER,
    ),
  ],
);

interface Weighing extends Placed<Pick> {
  readonly fruit: number;
  readonly weight: number;
}

const weights = defineTable<Weighing>(
  'weights',
  'Fruit weighed one by one, a row each.',
  (ledger) =>
    placed(ledger, 'pick', ({ picks }) => picks).flatMap(({ id, entry }) =>
      entry.weights.map((weight, index) => ({ id, entry, fruit: index + 1, weight })),
    ),
  [
    entryField<Weighing>('picks.entry'),
    whole(column('fruit', 'Number of the fruit in its pick, from 1.'), ({ fruit }) => fruit),
    ...cropFields<Weighing>(),
    figure(column('weight', 'Weight of the fruit.', { unit: 'g' }), ({ weight }) => weight),
    text(
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

function sittings(ledger: Ledger): readonly Placed<Tasting>[] {
  return placed(ledger, 'tasting', ({ tastings }) => tastings);
}

const tastings = defineTable<Placed<Tasting>>('tastings', 'Each sitting.', sittings, [
  entryField(),
  ...datedFields<Placed<Tasting>>(),
  whole(column('samples', 'Samples on the table.'), ({ entry }) => entry.samples.length),
  ...ownColumns<Placed<Tasting>>(tasting.fields, ({ entry }) => ({ ...entry })),
]);

interface Tasted extends Placed<Tasting> {
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

function sampleFields<Thing extends Tasted>(): readonly Field<Thing>[] {
  return [
    text(column('sample', 'Id of the sample.', { refersTo: 'samples.sample' }), sampleId),
    entryField<Thing>(TASTINGS),
    ...datedFields<Thing>(),
    treeField(({ sample }) => sample.tree),
    cultivarField(({ sample }) => sample.tree),
    cropField(({ sample }) => sample.crop),
  ];
}

function labelField<Thing extends Tasted>(): Field<Thing> {
  return text(column('label', 'How the score sheets call it.'), ({ sample }) => sample.label);
}

const samples = defineTable<Tasted>('samples', 'What was tasted.', samplesOf, [
  text(column('sample', 'Id.'), sampleId),
  ...sampleFields<Tasted>().slice(1),
  text(
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
    text(
      column('taster', 'Taster.', { refersTo: 'tasters.taster' }),
      ({ score }) => score.taster.key,
    ),
    text(column('trait', 'Trait.'), ({ score }) => score.trait),
    figure(column('score', "On the ledger's scale."), ({ score }) => score.value),
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
    text(column('taster', 'Taster.', { refersTo: 'tasters.taster' }), ({ by }) => by.key),
    text(column('word', 'A word or a short phrase.'), ({ word }) => word),
  ],
);

interface Ordered extends Tasted {
  readonly order: Order;
  readonly place: number;
}

/** Places as in a race: after two in the second place comes the fourth. */
function places(sitting: Placed<Tasting>, order: Order): readonly Ordered[] {
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
    text(
      column('taster', 'Taster.', { refersTo: 'tasters.taster' }),
      ({ order }) => order.taster.key,
    ),
    whole(
      column('place', 'Place, 1 the best; after two in place 2 comes place 4.'),
      ({ place }) => place,
    ),
    whole(column('orderSize', 'Samples in the order.'), ({ order }) => order.ranks.flat().length),
  ],
);

export const tastingTables = [tastings, samples, scores, words, orders];
