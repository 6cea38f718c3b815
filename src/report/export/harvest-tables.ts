import { count } from '../../entries/count.ts';
import { drop } from '../../entries/drop.ts';
import { pick } from '../../entries/pick.ts';
import { pickWeight } from '../../measure/pick-weight.ts';
import { total } from '../../measure/total.ts';
import { type Count, DEFECTS, type Drop, type Pick } from '../../model/entries.ts';
import { cropFields, entryField, type Placed, placed } from './entry-fields.ts';
import { column, defineTable, figure, text, whole } from './export-table.ts';
import { ownColumns } from './own-columns.ts';

const counts = defineTable<Placed<Count>>(
  'counts',
  'What hung on a tree on a day, before anything was picked that day.',
  (ledger) => placed(ledger, 'count', ({ counts }) => counts),
  [
    entryField(),
    ...cropFields<Placed<Count>>(),
    ...ownColumns<Placed<Count>>(count.fields, ({ entry }) => ({ ...entry })),
  ],
);

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

const drops = defineTable<Placed<Drop>>(
  'drops',
  'Fruit lost before it could be picked.',
  (ledger) => placed(ledger, 'drop', ({ drops }) => drops),
  [
    entryField(),
    ...cropFields<Placed<Drop>>(),
    ...ownColumns<Placed<Drop>>(drop.fields, ({ entry }) => ({ ...entry })),
  ],
);

export const harvestTables = [counts, picks, weights, drops];
