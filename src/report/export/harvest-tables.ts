import { pickWeight } from '../../measure/pick-weight.ts';
import { total } from '../../measure/total.ts';
import { type Count, DEFECTS, type Drop, type Pick } from '../../model/entries.ts';
import { cropFields, entryField, type Placed, placed, remarkFields } from './entry-fields.ts';
import { column, defineTable, figure, text, whole } from './export-table.ts';

const counts = defineTable<Placed<Count>>(
  'counts',
  'What hung on a tree on a day, before anything was picked that day.',
  (ledger) => placed(ledger, 'count', ({ counts }) => counts),
  [
    entryField(),
    ...cropFields<Placed<Count>>(),
    whole(column('fruit', 'Fruit hanging.'), ({ entry }) => entry.fruit),
    whole(column('branches', 'Branches, where counted.'), ({ entry }) => entry.branches),
    ...remarkFields<Placed<Count>>(),
  ],
);

const picks = defineTable<Placed<Pick>>(
  'picks',
  'Fruit picked from a tree on a day.',
  (ledger) => placed(ledger, 'pick', ({ picks }) => picks),
  [
    entryField(),
    ...cropFields<Placed<Pick>>(),
    whole(column('fruit', 'Fruit picked.'), ({ entry }) => entry.fruit),
    figure(
      column('weightTogether', 'All fruit on the scales together.', { unit: 'g' }),
      ({ entry }) => entry.weight,
    ),
    whole(
      column('weighedSingly', 'Fruit weighed one by one; see weights.'),
      ({ entry }) => entry.weights.length,
    ),
    text(
      column('singleWeights', 'Their weights, with blanks between.', {
        unit: 'g',
        isNumbers: true,
      }),
      ({ entry }) => (entry.weights.length === 0 ? undefined : entry.weights.join(' ')),
    ),
    text(
      column('sampled', 'How those were chosen: all, random or best.'),
      ({ entry }) => entry.sample,
    ),
    figure(
      column('totalWeight', 'All fruit: together, added up, or stretched from a sample.', {
        unit: 'g',
      }),
      ({ entry }) => pickWeight(entry).total,
    ),
    text(
      column('totalFrom', 'How the total was had: together, singly, stretched or unknown.'),
      ({ entry }) => pickWeight(entry).source,
    ),
    ...DEFECTS.map((defect) =>
      whole<Placed<Pick>>(
        column(defect, `Fruit whose worst defect this was.`),
        ({ entry }) => entry.defects[defect],
      ),
    ),
    whole(
      column('sound', 'Fruit without a defect.'),
      ({ entry }) => entry.fruit - total(DEFECTS, (defect) => entry.defects[defect]),
    ),
    ...remarkFields<Placed<Pick>>(),
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

const drops = defineTable<Placed<Drop>>(
  'drops',
  'Fruit lost before it could be picked.',
  (ledger) => placed(ledger, 'drop', ({ drops }) => drops),
  [
    entryField(),
    ...cropFields<Placed<Drop>>(),
    whole(column('fruit', 'Fruit lost.'), ({ entry }) => entry.fruit),
    ...remarkFields<Placed<Drop>>(),
  ],
);

export const harvestTables = [counts, picks, weights, drops];
