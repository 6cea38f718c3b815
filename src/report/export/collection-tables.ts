import { SECTIONS } from '../../entries/catalogue.ts';
import { cultivar } from '../../entries/cultivar.ts';
import { event } from '../../entries/event.ts';
import { tree } from '../../entries/tree.ts';
import { trial } from '../../entries/trial.ts';
import { trunkArea } from '../../measure/trunk-area.ts';
import type { Cultivar, Tree } from '../../model/collection.ts';
import { addDays, growingYear } from '../../model/dates.ts';
import type { FieldEvent, Taster } from '../../model/entries.ts';
import type { Ledger, SeasonSection, Site, WeatherDay } from '../../model/ledger.ts';
import {
  cultivarField,
  datedFields,
  dateField,
  entryField,
  type Following,
  type NumberedEntry,
  numberedEntries,
  type OfTree,
  ownColumns,
  seasonField,
  treeField,
} from './entry-fields.ts';
import {
  column,
  dayField,
  defineTable,
  figureField,
  textField,
  wholeField,
} from './export-table.ts';
import { plainTable } from './plain-table.ts';

const sites = defineTable<Site>(
  'sites',
  'Where trees stand.',
  ({ trial: { sites: listed } }) => listed.values(),
  [
    textField(column('site', 'Key.'), ({ key }) => key),
    ...ownColumns(trial.site, (one: Site) => ({ ...one })),
  ],
);

const tasters = defineTable<Taster>(
  'tasters',
  'Who tastes.',
  ({ trial }) => trial.tasters.values(),
  [
    textField(column('taster', 'Key.'), ({ key }) => key),
    textField(column('name', 'Name.'), ({ name }) => name),
  ],
);

const cultivars = defineTable<Cultivar>(
  'cultivars',
  'What is being compared.',
  (ledger) => ledger.cultivars.values(),
  [
    textField(column('cultivar', 'Key.'), ({ key }) => key),
    ...ownColumns<Cultivar>(cultivar.fields, cultivar.said, {
      perhaps: [
        textField(
          column('perhapsSameAs', 'Another cultivar that it may be.', {
            refersTo: 'cultivars.cultivar',
          }),
          ({ perhaps }) => perhaps?.sameAs,
        ),
        textField(column('perhapsWhy', 'What speaks for it.'), ({ perhaps }) => perhaps?.why),
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
    textField(
      column('cultivar', 'Cultivar.', { refersTo: 'cultivars.cultivar' }),
      ({ key }) => key,
    ),
    textField(column('name', 'Other name.'), ({ name }) => name),
  ],
);

const trees = defineTable<Tree>('trees', 'Each tree.', (ledger) => ledger.trees.values(), [
  textField(column('tree', 'Id.'), ({ id }) => id),
  ...ownColumns<Tree>(tree.fields, tree.said, {
    container: [
      textField(column('container', 'ground or pot.'), ({ container }) => container?.kind),
      figureField(column('potVolume', 'Size of the pot.', { unit: 'L' }), ({ container }) =>
        container?.kind === 'pot' ? container.litres : undefined,
      ),
    ],
  }),
]);

const seasons = defineTable<number>('seasons', 'Each growing year.', years, [
  wholeField(column('season', 'Year that names it.'), (year) => year),
  dayField(
    column('firstDay', 'First day.'),
    (year, { trial }) => growingYear(year, trial.place.latitude).first,
  ),
  dayField(
    column('lastDay', 'Last day.'),
    (year, { trial }) => growingYear(year, trial.place.latitude).last,
  ),
  dayField(column('frost', 'First autumn frost, where known.'), (year, { trial }) =>
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
    figureField(column('tmin', 'Lowest temperature.', { unit: 'degC' }), ({ tmin }) => tmin),
    figureField(column('tmax', 'Highest temperature.', { unit: 'degC' }), ({ tmax }) => tmax),
    figureField(column('rain', 'Rain.', { unit: 'mm' }), ({ rain }) => rain),
  ],
);

/** What entries refer to. */
export const collectionTables = [sites, tasters, cultivars, synonyms, trees, seasons, weather];

/** What follows from a girth. */
const FROM_GIRTH: Following<NumberedEntry<OfTree>> = {
  girth: [
    figureField(column('trunkArea', 'Girth squared / 4 pi.', { unit: 'cm2' }), ({ entry }) =>
      'girth' in entry && typeof entry.girth === 'number' ? trunkArea(entry.girth) : undefined,
    ),
  ],
};

type Happened = NumberedEntry<FieldEvent>;

function treeOf({ entry }: Happened) {
  return entry.target.kind === 'tree' ? entry.target.tree : undefined;
}

/** What only some kinds of event have. */
function only<Kind extends FieldEvent['kind'], Value>(
  kinds: readonly Kind[],
  of: (event: Extract<FieldEvent, { kind: Kind }>) => Value | undefined,
): (happened: Happened) => Value | undefined {
  return ({ entry }) =>
    (kinds as readonly string[]).includes(entry.kind)
      ? of(entry as Extract<FieldEvent, { kind: Kind }>)
      : undefined;
}

/** What stands in columns of its own, or follows, behind the field that it is read beside. */
const FROM_EVENT = {
  kind: ownColumns<Happened>({ moved_to: event.row.moved_to }, ({ entry }) => ({
    moved_to: entry.kind === 'move' ? entry.site : undefined,
  })),
  after: [
    dayField<Happened>(
      column('clearOn', 'First day on which fruit is clear of a spray.'),
      only(['spray'], ({ on, waitDays }) => addDays(on, waitDays)),
    ),
    textField<Happened>(
      column('container', 'ground or pot, after repotting.'),
      only(['repot'], ({ container }) => container?.kind),
    ),
    ...ownColumns<Happened>({ pot_volume: event.row.pot_volume }, ({ entry }) => ({
      pot_volume:
        entry.kind === 'repot' && entry.container?.kind === 'pot'
          ? entry.container.litres
          : undefined,
    })),
  ],
};

const events = defineTable<Happened>(
  'events',
  'What was done or happened to a tree, a site or everything.',
  (ledger) => numberedEntries(ledger, 'event', (season) => season.events),
  [
    entryField(),
    ...datedFields<Happened>(),
    textField(column('target', 'tree, site or trial.'), ({ entry }) => entry.target.kind),
    treeField(treeOf),
    cultivarField(treeOf),
    textField(
      column('site', 'The site it was done to.', { refersTo: 'sites.site' }),
      ({ entry }) => (entry.target.kind === 'site' ? entry.target.site : undefined),
    ),
    ...ownColumns<Happened>(event.fields, ({ entry }) => event.said(entry), FROM_EVENT),
  ],
);

/** Sections whose tables stand below, or among those of the harvest and of tastings. */
const ELSEWHERE = new Set<SeasonSection>(['counts', 'picks', 'drops', 'tastings', 'events']);

const ofTrees = SECTIONS.filter((section) => !ELSEWHERE.has(section)).map((section) =>
  plainTable(section, (season) => season[section] as readonly OfTree[], FROM_GIRTH),
);

export const treeTables = [...ofTrees, events];
