import { CATALOGUE, SECTIONS } from '../../entries/catalogue.ts';
import { cultivar } from '../../entries/cultivar.ts';
import { orderedKeys } from '../../entries/derive/key-order.ts';
import { event } from '../../entries/event.ts';
import { type Fields, remark, remarks } from '../../entries/field.ts';
import { type Said, saidOf } from '../../entries/kind.ts';
import { sample } from '../../entries/tasting.ts';
import { tree } from '../../entries/tree.ts';
import { trial as kind } from '../../entries/trial.ts';
import type { Cultivar, Tree } from '../../model/collection.ts';
import type { FieldEvent, Sample, Tasting } from '../../model/entries.ts';
import type { Crop, Ledger, Season, SeasonSection } from '../../model/ledger.ts';

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

function cultivarEntry(one: Cultivar): Entry {
  const { key } = one;
  const fields = valuesOf(cultivar.fields, cultivar.said(one), ['why']);
  return { ...NOTHING, kind: 'cultivar', name: key, cultivar: key, fields };
}

function treeEntry(one: Tree): Entry {
  const fields = valuesOf(tree.fields, tree.said(one));
  return { ...NOTHING, kind: 'tree', ...ofTree(one), fields };
}

/** What is said, in the order of the fields; what a field holds inside stands behind it. */
function valuesOf(fields: Fields, said: Said, inside: readonly string[] = []): Values {
  const keys = [...Object.keys(fields).filter((key) => !(key in remark)), ...inside];
  const ordered = [...keys, ...Object.keys(remark)].map((key) => [key, said[key]]);
  return knownFields(Object.fromEntries(ordered));
}

function ofTree(tree: Tree) {
  return { tree: tree.id, cultivar: tree.cultivar.key };
}

function seasonEntries(season: Season): readonly Entry[] {
  return SECTIONS.flatMap((section) => {
    if (section === 'tastings') return season.tastings.flatMap(tastingEntries);
    if (section === 'events') return season.events.map(eventEntry);
    const { one } = CATALOGUE[section];
    return season[section].map((entry) => {
      return treeEntryOf(one, entry, fieldsOf(section, saidOf(CATALOGUE[section], entry)));
    });
  });
}

type Values = Readonly<Record<string, FieldValue>>;

/** What an entry says besides its head, in the order in which it is written. */
function fieldsOf(
  section: SeasonSection | 'samples',
  said: Said,
  more: Readonly<Record<string, FieldValue>> = {},
): Values {
  const { fields } = section === 'samples' ? sample : CATALOGUE[section];
  const own = orderedKeys(section, said).filter(
    (key) => Object.hasOwn(fields, key) && !HEAD.has(key) && !isLines(fields, key),
  );
  const [remarked, plain] = [
    own.filter((key) => key in remarks),
    own.filter((key) => !(key in remarks)),
  ];
  const values = (keys: readonly string[]) =>
    Object.fromEntries(keys.map((key) => [key, said[key] as FieldValue]));
  return { ...values(plain), ...more, ...values(remarked) };
}

/** Which entry it is, and not what it says. */
const HEAD = new Set(['on', 'tree', 'crop']);

function isLines(fields: Fields, key: string): boolean {
  return fields[key]?.holds.kind === 'lines';
}

function treeEntryOf(
  kind: EntryKind,
  { tree, on, crop }: { readonly tree: Tree; readonly on: string; readonly crop?: Crop },
  fields: Values,
): Entry {
  return { ...NOTHING, kind, ...ofTree(tree), crop, on, fields };
}

/** The sitting as one entry, and each sample with its scores as one of its tree. */
function tastingEntries(tasting: Tasting): readonly Entry[] {
  const { on, orders, samples } = tasting;
  const inOrder = orders.map(({ taster, ranks }) => [
    `order by ${taster.name}`,
    ranks.map((tied) => tied.map(({ label }) => label).join(' = ')).join(' > '),
  ]);
  const fields = {
    ...fieldsOf('tastings', { ...tasting }),
    ...Object.fromEntries(inOrder),
  };
  const sitting: Entry = { ...NOTHING, kind: 'tasting', on, fields };
  return [sitting, ...samples.map((one) => sampleEntry(tasting, one))];
}

function sampleEntry({ on, scores, words }: Tasting, one: Sample): Entry {
  const own = scores
    .filter((score) => score.sample === one)
    .map(({ taster, trait, value }) => [`${trait} by ${taster.name}`, value]);
  const tastesOf = words
    .filter((some) => some.sample === one)
    .map(({ taster, words: list }) => [`words by ${taster.name}`, list]);
  const fields = fieldsOf('samples', sample.said(one), Object.fromEntries([...own, ...tastesOf]));
  return treeEntryOf('sample', { ...one, on }, fields);
}

function eventEntry(one: FieldEvent): Entry {
  const { target, on } = one;
  const where =
    target.kind === 'tree'
      ? ofTree(target.tree)
      : { name: target.kind === 'site' ? `site ${target.site}` : 'whole trial' };
  return { ...NOTHING, kind: 'event', ...where, on, fields: fieldsOf('events', event.said(one)) };
}

/** What a ledger says in one place, as fields that can be held against those of another ledger. */
export interface Entry {
  readonly kind: EntryKind;
  /** What it is about where that is neither tree nor day: a key, a setting, a site. */
  readonly name: string | undefined;
  /** Id. */
  readonly tree: string | undefined;
  readonly crop: Crop | undefined;
  /** YYYY-MM-DD */
  readonly on: string | undefined;
  /** Keys of the cultivars whose figures it may touch. */
  readonly cultivar: string | undefined;
  readonly fields: Readonly<Record<string, FieldValue>>;
}

export type EntryKind =
  | (typeof CATALOGUE)[SeasonSection]['one']
  | 'sample'
  | 'setting'
  | 'cultivar'
  | 'tree'
  | 'weather';

export type FieldValue = string | number | boolean | readonly number[] | readonly string[];

/** Fields without those that are not known. */
function knownFields(
  fields: Readonly<Record<string, FieldValue | undefined>>,
): Readonly<Record<string, FieldValue>> {
  return Object.fromEntries(
    Object.entries(fields).flatMap(([key, value]) => (value === undefined ? [] : [[key, value]])),
  );
}

/** What `ledger.yaml` says: each setting an entry of its own. */
function trialEntries({ trial }: Ledger): readonly Entry[] {
  const said = kind.said(trial);
  const settings = Object.keys(kind.fields).flatMap((key) => settingsOf(key, said[key]));
  return Object.entries(knownFields(Object.fromEntries(settings))).map(([name, value]) => ({
    kind: 'setting',
    name,
    tree: undefined,
    crop: undefined,
    on: undefined,
    cultivar: undefined,
    fields: { value },
  }));
}

/** A setting, or those inside it, by the path of keys. */
function settingsOf(path: string, value: unknown): readonly (readonly [string, FieldValue])[] {
  if (value === undefined) return [];
  if (typeof value !== 'object' || value === null || Array.isArray(value)) {
    return [[path, value as FieldValue]];
  }
  return Object.entries(value).flatMap(([key, one]) => settingsOf(`${path}.${key}`, one));
}
