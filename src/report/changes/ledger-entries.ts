import type { Container, Cultivar, Tree } from '../../model/collection.ts';
import type { FieldEvent, Sample, Tasting } from '../../model/entries.ts';
import type { Ledger, Season } from '../../model/ledger.ts';
import { type Entry, type FieldValue, knownFields } from './entry.ts';
import { trialEntries } from './trial-entries.ts';

/** Everything that a ledger says, entry by entry; ways of writing that mean the same are the same. */
export function ledgerEntries(ledger: Ledger): readonly Entry[] {
  return [
    ...trialEntries(ledger),
    ...[...ledger.cultivars.values()].map(cultivarEntry),
    ...[...ledger.trees.values()].map(treeEntry),
    ...ledger.seasons.flatMap(seasonEntries),
    ...[...ledger.weather.values()].flat().map(({ date, tmin, tmax, rain }): Entry => {
      return { ...NOTHING, kind: 'weather', on: date, fields: knownFields({ tmin, tmax, rain }) };
    }),
  ];
}

const NOTHING = {
  name: undefined,
  tree: undefined,
  crop: undefined,
  on: undefined,
  cultivar: undefined,
} as const;

function cultivarEntry({ key, name, bears, also, perhaps, ...rest }: Cultivar): Entry {
  const fields = {
    name,
    bears,
    also: also.length === 0 ? undefined : also,
    perhaps: perhaps?.sameAs,
    why: perhaps?.why,
    protected: rest.protected,
    note: rest.note,
  };
  return { ...NOTHING, kind: 'cultivar', name: key, cultivar: key, fields: knownFields(fields) };
}

function treeEntry(tree: Tree): Entry {
  const fields = {
    cultivar: tree.cultivar.key,
    received_as: tree.receivedAs,
    from: tree.from,
    received: tree.received?.text,
    planted: tree.planted?.text,
    site: tree.site,
    container: containerText(tree.container),
    rootstock: tree.rootstock,
    removed: tree.removed?.text,
    note: tree.note,
  };
  return { ...NOTHING, kind: 'tree', ...ofTree(tree), fields: knownFields(fields) };
}

function containerText(container: Container | undefined): string | undefined {
  return container?.kind === 'pot' ? `${container.litres} L` : container?.kind;
}

function ofTree(tree: Tree) {
  return { tree: tree.id, cultivar: tree.cultivar.key };
}

function seasonEntries(season: Season): readonly Entry[] {
  return [
    ...season.counts.map(({ fruit, branches, ...entry }) =>
      cropEntry('count', entry, { fruit, branches }),
    ),
    ...season.picks.map(({ fruit, weights, weight, sample, defects, ...entry }) =>
      cropEntry('pick', entry, {
        fruit,
        weights: weights.length === 0 ? undefined : weights,
        weight,
        sample,
        // A defect that is not named is none.
        ...Object.fromEntries(Object.entries(defects).filter(([, count]) => count > 0)),
      }),
    ),
    ...season.drops.map(({ fruit, ...entry }) => cropEntry('drop', entry, { fruit })),
    ...season.tastings.flatMap(tastingEntries),
    ...season.growth.map(({ tree, on, girth, height, note, photo }): Entry => {
      const fields = knownFields({ girth, height, note, photo });
      return { ...NOTHING, kind: 'growth', ...ofTree(tree), on, fields };
    }),
    ...season.events.map(eventEntry),
  ];
}

function cropEntry(
  kind: 'count' | 'pick' | 'drop',
  entry: Omit<Season['drops'][number], 'fruit'>,
  own: Readonly<Record<string, FieldValue | undefined>>,
): Entry {
  const { tree, crop, on, note, photo } = entry;
  const fields = knownFields({ ...own, note, photo });
  return { ...NOTHING, kind, ...ofTree(tree), crop, on, fields };
}

/** The sitting as one entry, and each sample with its scores as one of its tree. */
function tastingEntries(tasting: Tasting): readonly Entry[] {
  const { on, note, photo, orders, samples } = tasting;
  const inOrder = orders.map(({ taster, ranks }) => [
    `order by ${taster.name}`,
    ranks.map((tied) => tied.map(({ label }) => label).join(' = ')).join(' > '),
  ]);
  const fields = knownFields({ note, photo, ...Object.fromEntries(inOrder) });
  const sitting: Entry = { ...NOTHING, kind: 'tasting', on, fields };
  return [sitting, ...samples.map((sample) => sampleEntry(tasting, sample))];
}

function sampleEntry({ on, scores }: Tasting, sample: Sample): Entry {
  const { tree, crop, ripeness, brix, eye, note, photo, label } = sample;
  const own = scores
    .filter((score) => score.sample === sample)
    .map(({ taster, trait, value }) => [`${trait} by ${taster.name}`, value]);
  const fields = knownFields({
    as: label === tree.id ? undefined : label,
    ripeness,
    brix,
    eye,
    ...Object.fromEntries(own),
    note,
    photo,
  });
  return { ...NOTHING, kind: 'sample', ...ofTree(tree), crop, on, fields };
}

function eventEntry(event: FieldEvent): Entry {
  const { at, season, on, note, photo, target, kind, ...own } = event;
  const values = Object.entries(own).map(([key, value]) => [
    key === 'waitDays' ? 'wait_days' : key,
    typeof value === 'object' ? containerText(value) : value,
  ]);
  const fields = knownFields({ kind, ...Object.fromEntries(values), note, photo });
  const where =
    target.kind === 'tree'
      ? ofTree(target.tree)
      : { name: target.kind === 'site' ? `site ${target.site}` : 'whole trial' };
  return { ...NOTHING, kind: 'event', ...where, on, fields };
}
