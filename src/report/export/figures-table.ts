import { CONFIDENCE } from '../../measure/confidence.ts';
import { type CropRecord, cropRecords } from '../../measure/crop-record.ts';
import { type RipeningFigures, ripeningFigures } from '../../measure/ripening-figures.ts';
import { type SoundnessFigures, soundnessFigures } from '../../measure/soundness-figures.ts';
import { recordsUnderWay } from '../../measure/under-way.ts';
import { meanWeight } from '../../measure/weight-figures.ts';
import { type YieldFigures, yieldFigures } from '../../measure/yield-figures.ts';
import type { IsoDate } from '../../model/dates.ts';
import { DEFECTS } from '../../model/entries.ts';
import type { Ledger } from '../../model/ledger.ts';
import { cropField, cultivarField, seasonField, treeField } from './entry-fields.ts';
import {
  column,
  dayField,
  defineTable,
  figureField,
  textField,
  wholeField,
  yesOrNoField,
} from './export-table.ts';

/** All that the reports compute of one crop of one tree in one season. */
interface Figures {
  readonly record: CropRecord;
  readonly borne: YieldFigures;
  readonly soundness: SoundnessFigures;
  readonly ripening: RipeningFigures | undefined;
}

/** Without the intervals: one tree has none. */
function computed(ledger: Ledger, today: IsoDate | undefined): readonly Figures[] {
  const isUnderWay = recordsUnderWay(ledger, today);
  return cropRecords(ledger).map((record) => ({
    record,
    borne: yieldFigures(ledger, [record], {
      confidence: CONFIDENCE,
      trunkSeason: record.season,
    }),
    soundness: soundnessFigures([record], CONFIDENCE),
    ripening: ripeningFigures(ledger, [record], record.season, isUnderWay),
  }));
}

export const figuresTable = defineTable<Figures>(
  'figures',
  'What the reports compute of one crop of one tree in one season.',
  computed,
  [
    seasonField(({ record }) => record.season),
    treeField(({ record }) => record.tree),
    cultivarField(({ record }) => record.tree),
    textField(
      column('site', 'Where the tree stood when the load was counted.', { refersTo: 'sites.site' }),
      ({ record }) => record.site,
    ),
    cropField(({ record }) => record.crop),
    wholeField(column('load', 'Fruit set.'), ({ borne }) => borne.load),
    yesOrNoField(
      column('counted', 'Whether a count was made; without one the load may be too low.'),
      ({ record }) => record.counted,
    ),
    wholeField(column('branches', 'Branches, where counted.'), ({ borne }) => borne.branches),
    figureField(
      column('fruitPerBranch', 'Load / branches.'),
      ({ borne }) => borne.fruitPerBranch?.value,
    ),
    wholeField(column('picked', 'Fruit picked.'), ({ borne }) => borne.picked),
    figureField(
      column('pickedShare', 'Fruit picked / load, 0 to 1.'),
      ({ borne }) => borne.pickedShare,
    ),
    wholeField(column('dropped', 'Fruit lost before picking.'), ({ record }) => record.dropped),
    figureField(
      column('pickedWeight', 'All fruit picked; blank where a part is not known.', { unit: 'g' }),
      ({ borne }) => borne.pickedWeight,
    ),
    wholeField(
      column('weighed', 'Fruit that the mean weight rests on.'),
      ({ record }) => record.weights.counted.fruit,
    ),
    figureField(
      column('meanWeight', 'Weight / fruit.', { unit: 'g' }),
      ({ record }) => meanWeight([record], CONFIDENCE)?.value,
    ),
    figureField(
      column('weightPerBranch', 'Picked weight / branches.', { unit: 'g' }),
      ({ borne }) => borne.weightPerBranch,
    ),
    ...DEFECTS.map((defect) =>
      wholeField<Figures>(
        column(defect, 'Fruit whose worst defect this was.'),
        ({ soundness }) => soundness.defects[defect],
      ),
    ),
    wholeField(column('sound', 'Fruit without a defect.'), ({ soundness }) => soundness.sound),
    figureField(
      column('soundShare', 'Sound / picked, 0 to 1.'),
      ({ soundness }) => soundness.share,
    ),
    dayField(column('firstPick', 'First day of picking.'), ({ ripening }) => ripening?.first),
    dayField(
      column('halfPicked', 'First day by which half was in; blank while more is to come.'),
      ({ ripening }) => ripening?.p50,
    ),
    dayField(column('lastPick', 'Last day of picking.'), ({ ripening }) => ripening?.last),
    figureField(
      column('degreeDays', 'To the half-picked day, from the first day of the season.', {
        unit: 'degC d',
      }),
      ({ ripening }) =>
        ripening?.degreeDays?.known === true ? ripening.degreeDays.degreeDays : undefined,
    ),
    figureField(
      column('shareBeforeFrost', 'Fruit picked by the first frost / load, 0 to 1.'),
      ({ ripening }) => ripening?.shareBeforeFrost,
    ),
    figureField(
      column('trunkArea', 'By the latest girth up to the end of the season.', { unit: 'cm2' }),
      ({ borne }) => borne.trunkArea,
    ),
  ],
);
