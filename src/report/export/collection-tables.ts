import { cultivar } from '../../entries/cultivar.ts';
import { tree } from '../../entries/tree.ts';
import { trial } from '../../entries/trial.ts';
import type { Cultivar, Tree } from '../../model/collection.ts';
import { growingYear } from '../../model/dates.ts';
import type { Taster } from '../../model/entries.ts';
import type { Ledger, Site, WeatherDay } from '../../model/ledger.ts';
import { dateField, seasonField } from './entry-fields.ts';
import { column, day, defineTable, figure, text, whole } from './export-table.ts';
import { ownColumns } from './own-columns.ts';

const sites = defineTable<Site>(
  'sites',
  'Where trees stand.',
  ({ trial: { sites: listed } }) => listed.values(),
  [
    text(column('site', 'Key.'), ({ key }) => key),
    ...ownColumns(trial.site, (one: Site) => ({ ...one })),
  ],
);

const tasters = defineTable<Taster>(
  'tasters',
  'Who tastes.',
  ({ trial }) => trial.tasters.values(),
  [
    text(column('taster', 'Key.'), ({ key }) => key),
    text(column('name', 'Name.'), ({ name }) => name),
  ],
);

const cultivars = defineTable<Cultivar>(
  'cultivars',
  'What is being compared.',
  (ledger) => ledger.cultivars.values(),
  [
    text(column('cultivar', 'Key.'), ({ key }) => key),
    ...ownColumns<Cultivar>(cultivar.fields, cultivar.said, {
      perhaps: [
        text(
          column('perhapsSameAs', 'Another cultivar that it may be.', {
            refersTo: 'cultivars.cultivar',
          }),
          ({ perhaps }) => perhaps?.sameAs,
        ),
        text(column('perhapsWhy', 'What speaks for it.'), ({ perhaps }) => perhaps?.why),
      ],
    }),
  ],
);

const synonyms = defineTable<{ readonly key: string; readonly name: string }>(
  'synonyms',
  'Other names of a cultivar, a row each.',
  (ledger) =>
    [...ledger.cultivars.values()].flatMap(({ key, also }) => also.map((name) => ({ key, name }))),
  [
    text(column('cultivar', 'Cultivar.', { refersTo: 'cultivars.cultivar' }), ({ key }) => key),
    text(column('name', 'Other name.'), ({ name }) => name),
  ],
);

const trees = defineTable<Tree>('trees', 'Each tree.', (ledger) => ledger.trees.values(), [
  text(column('tree', 'Id.'), ({ id }) => id),
  ...ownColumns<Tree>(tree.fields, tree.said, {
    container: [
      text(column('container', 'ground or pot.'), ({ container }) => container?.kind),
      figure(column('potVolume', 'Size of the pot.', { unit: 'L' }), ({ container }) =>
        container?.kind === 'pot' ? container.litres : undefined,
      ),
    ],
  }),
]);

const seasons = defineTable<number>('seasons', 'Each growing year.', years, [
  whole(column('season', 'Year that names it.'), (year) => year),
  day(
    column('firstDay', 'First day.'),
    (year, { trial }) => growingYear(year, trial.place.latitude).first,
  ),
  day(
    column('lastDay', 'Last day.'),
    (year, { trial }) => growingYear(year, trial.place.latitude).last,
  ),
  day(column('frost', 'First autumn frost, where known.'), (year, { trial }) =>
    trial.frost.get(year),
  ),
]);

/** Years that anything is known of, oldest first. */
function years(ledger: Ledger): readonly number[] {
  const known = ledger.seasons.map(({ year }) => year);
  const all = new Set([...known, ...ledger.weather.keys(), ...ledger.trial.frost.keys()]);
  return [...all].toSorted((a, b) => a - b);
}

const weather = defineTable<WeatherDay & { readonly season: number }>(
  'weather',
  'Weather of each day.',
  (ledger) =>
    years(ledger).flatMap((season) =>
      (ledger.weather.get(season) ?? []).map((one) => ({ season, ...one })),
    ),
  [
    seasonField(({ season }) => season),
    dateField(({ date }) => date),
    figure(column('tmin', 'Lowest temperature.', { unit: 'degC' }), ({ tmin }) => tmin),
    figure(column('tmax', 'Highest temperature.', { unit: 'degC' }), ({ tmax }) => tmax),
    figure(column('rain', 'Rain.', { unit: 'mm' }), ({ rain }) => rain),
  ],
);

/** What entries refer to. */
export const collectionTables = [sites, tasters, cultivars, synonyms, trees, seasons, weather];
