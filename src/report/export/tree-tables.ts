import { trunkArea } from '../../measure/trunk-area.ts';
import { addDays } from '../../model/dates.ts';
import type { FieldEvent, Growth } from '../../model/entries.ts';
import {
  cultivarField,
  datedFields,
  entryField,
  type Placed,
  placed,
  remarkFields,
  treeField,
  treeFields,
} from './entry-fields.ts';
import { column, day, defineTable, figure, text, whole } from './export-table.ts';

const growth = defineTable<Placed<Growth>>(
  'growth',
  'Girth and height of trees.',
  (ledger) => placed(ledger, 'growth', (season) => season.growth),
  [
    entryField(),
    ...treeFields<Placed<Growth>>(),
    figure(column('girth', 'Girth of the trunk.', { unit: 'cm' }), ({ entry }) => entry.girth),
    figure(column('trunkArea', 'Girth squared / 4 pi.', { unit: 'cm2' }), ({ entry }) =>
      entry.girth === undefined ? undefined : trunkArea(entry.girth),
    ),
    figure(column('height', 'Height.', { unit: 'cm' }), ({ entry }) => entry.height),
    ...remarkFields<Placed<Growth>>(),
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
    text(
      column('kind', 'move, water, feed, prune, repot, spray, frost or winter-damage.'),
      ({ entry }) => entry.kind,
    ),
    text(
      column('movedTo', 'Where a tree moved to.', { refersTo: 'sites.site' }),
      only(['move'], ({ site }) => site),
    ),
    text(
      column('product', 'What was given or sprayed.'),
      only(['water', 'feed', 'prune', 'spray'], ({ product }) => product),
    ),
    whole(
      column('waitDays', 'Days to wait before picking.', { unit: 'd' }),
      only(['spray'], ({ waitDays }) => waitDays),
    ),
    text(
      column('after', 'picks where the fruit of that day was picked before the spray.'),
      only(['spray'], ({ after }) => after),
    ),
    day(
      column('clearOn', 'First day on which fruit is clear of a spray.'),
      only(['spray'], ({ on, waitDays }) => addDays(on, waitDays)),
    ),
    text(
      column('container', 'ground or pot, after repotting.'),
      only(['repot'], ({ container }) => container?.kind),
    ),
    figure(
      column('potVolume', 'Size of the new pot.', { unit: 'L' }),
      only(['repot'], ({ container }) =>
        container?.kind === 'pot' ? container.litres : undefined,
      ),
    ),
    figure(
      column('low', 'Lowest temperature of a frost.', { unit: 'degC' }),
      only(['frost'], ({ low }) => low),
    ),
    figure(
      column('dieback', 'Wood that died back.', { unit: 'cm' }),
      only(['winter-damage'], ({ dieback }) => dieback),
    ),
    ...remarkFields<Happened>(),
  ],
);

export const treeTables = [growth, events];
