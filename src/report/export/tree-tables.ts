import { event } from '../../entries/event.ts';
import { growth as growthKind } from '../../entries/growth.ts';
import { trunkArea } from '../../measure/trunk-area.ts';
import { addDays } from '../../model/dates.ts';
import type { FieldEvent, Growth } from '../../model/entries.ts';
import {
  cultivarField,
  datedFields,
  entryField,
  type Placed,
  placed,
  treeField,
  treeFields,
} from './entry-fields.ts';
import { column, day, defineTable, figure, text } from './export-table.ts';
import { ownColumns } from './own-columns.ts';

const growth = defineTable<Placed<Growth>>(
  'growth',
  'Girth and height of trees.',
  (ledger) => placed(ledger, 'growth', (season) => season.growth),
  [
    entryField(),
    ...treeFields<Placed<Growth>>(),
    ...ownColumns<Placed<Growth>>(growthKind.fields, ({ entry }) => ({ ...entry }), {
      girth: [
        figure(column('trunkArea', 'Girth squared / 4 pi.', { unit: 'cm2' }), ({ entry }) =>
          entry.girth === undefined ? undefined : trunkArea(entry.girth),
        ),
      ],
    }),
  ],
);

type Happened = Placed<FieldEvent>;

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
    day<Happened>(
      column('clearOn', 'First day on which fruit is clear of a spray.'),
      only(['spray'], ({ on, waitDays }) => addDays(on, waitDays)),
    ),
    text<Happened>(
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
  (ledger) => placed(ledger, 'event', (season) => season.events),
  [
    entryField(),
    ...datedFields<Happened>(),
    text(column('target', 'tree, site or trial.'), ({ entry }) => entry.target.kind),
    treeField(treeOf),
    cultivarField(treeOf),
    text(column('site', 'The site it was done to.', { refersTo: 'sites.site' }), ({ entry }) =>
      entry.target.kind === 'site' ? entry.target.site : undefined,
    ),
    ...ownColumns<Happened>(event.fields, ({ entry }) => event.said(entry), FROM_EVENT),
  ],
);

export const treeTables = [growth, events];
