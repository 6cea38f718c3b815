import { type DayCrop, type DayPlate, dayOf } from '../../judge/day.ts';
import { groupBy } from '../../measure/group-by.ts';
import { allows } from '../../measure/selection.ts';
import type { IsoDate } from '../../model/dates.ts';
import type { Ledger } from '../../model/ledger.ts';
import { cropHeading } from '../crop-words.ts';
import { plateName, RIPENESS_WORDS } from '../day/day-told.ts';
import { dayInWords } from '../day-words.ts';
import { decimal, joined, type Prose } from '../prose.ts';
import type { ReportRequest } from '../report-request.ts';
import { listed } from '../words.ts';
import type { DayFigure, DayPanel, DayRow } from './figure.ts';

/** What was picked and tasted on a day; undefined where nothing was marked or weighed. */
export function dayFigure(
  ledger: Ledger,
  { selection }: Pick<ReportRequest, 'selection'>,
  on: IsoDate,
): DayFigure | undefined {
  const crops = dayOf(ledger, on).crops.filter(({ crop }) => allows(selection.crops, crop));
  const panels = crops.flatMap((one) => cropPanels(ledger, one, selection));
  if (panels.length === 0) return undefined;
  return {
    kind: 'day',
    key: `day-${on}`,
    title: `Picked and tasted on ${dayInWords(on)} ${on.slice(0, 4)}`,
    reading: reading(panels),
    alt: joined(panels.map(altOf)),
    description: joined(panels.map(told)),
    scale: ledger.trial.scale,
    panels,
  };
}

function cropPanels(
  ledger: Ledger,
  { crop, plates }: DayCrop,
  selection: ReportRequest['selection'],
): readonly DayPanel[] {
  const shown = plates.filter(
    ({ tree, site }) =>
      allows(selection.cultivars, tree.cultivar.key) &&
      allows(selection.trees, tree.id) &&
      allows(selection.sites, site),
  );
  const heading = cropHeading(ledger, crop);
  const base = (plate: DayPlate) => {
    const ripeness = plate.tasted?.ripeness ?? 'ripe';
    return {
      name: plateName(ledger, plate, shown),
      place: plate.tasted?.place?.place,
      remark: ripeness === 'ripe' ? '' : RIPENESS_WORDS[ripeness],
      counts: ripeness === 'ripe',
    };
  };
  const marks = shown.flatMap((plate): DayRow[] =>
    plate.tasted?.overall === undefined
      ? []
      : [{ ...base(plate), value: plate.tasted.overall, others: tasterMeans(plate) }],
  );
  const weights = shown.flatMap((plate): DayRow[] =>
    plate.picked?.mean === undefined
      ? []
      : [
          {
            ...base(plate),
            counts: true,
            remark: '',
            value: plate.picked.mean,
            others: plate.usual === undefined ? [] : [plate.usual.mean],
          },
        ],
  );
  return [
    { heading: `${heading}: marks`, measure: 'marks' as const, rows: marks },
    { heading: `${heading}: weight`, measure: 'weight' as const, rows: weights },
  ].filter(({ rows }) => rows.length > 0);
}

/** The mean of what each taster gave a plate. */
function tasterMeans({ tasted }: DayPlate): readonly number[] {
  return [...groupBy(tasted?.given ?? [], ({ taster }) => taster).values()].map(
    (own) => own.reduce((sum, { value }) => sum + value, 0) / own.length,
  );
}

function reading(panels: readonly DayPanel[]): string {
  const has = (measure: DayPanel['measure']) => panels.some((panel) => panel.measure === measure);
  const isUnripe = panels.some(({ rows }) => rows.some(({ counts }) => !counts));
  return [
    has('marks') ? 'Marks: large dot, the mean of all marks; small rings, each taster.' : '',
    isUnripe ? 'A large hollow dot was not ripe and does not count.' : '',
    has('weight') ? 'Weight: large dot, that day; small ring, other years.' : '',
  ]
    .filter((part) => part !== '')
    .join(' ');
}

function altOf({ heading, measure, rows }: DayPanel): Prose {
  const placed = rows.filter(({ place }) => place !== undefined);
  const names = (placed.length > 0 ? placed : rows).map(({ name }) => name);
  const what = measure === 'marks' && placed.length > 0 ? 'best first ' : '';
  return [`${heading}: ${what}${listed(names, 4)}.`];
}

function told({ heading, measure, rows }: DayPanel): Prose {
  const unit = measure === 'weight' ? ' g' : '';
  const each = rows.map(({ name, value, others, remark }): Prose => {
    const behind = remark === '' ? [] : [`, ${remark}`];
    const beside =
      others.length === 0
        ? []
        : [
            measure === 'weight' ? ' (other years ' : ' (tasters ',
            ...joined(
              others.map((one) => [decimal(one, 1)]),
              ', ',
            ),
            ')',
          ];
    return [`${name} `, decimal(value, 1), unit, ...beside, ...behind];
  });
  return [`${heading}: `, ...joined(each, '; '), '.'];
}
