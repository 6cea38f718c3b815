import { CATALOGUE } from '../../entries/catalogue.ts';
import { cultivar } from '../../entries/cultivar.ts';
import { EVENTS } from '../../entries/event-kinds.ts';
import { type Fields as EntryFields, toldField } from '../../entries/field.ts';
import { tree } from '../../entries/tree.ts';
import { DEFECTS } from '../../model/entries.ts';
import type { Crop, Ledger } from '../../model/ledger.ts';
import { COVER_WORDS, type Cover } from '../../model/ledger.ts';
import { bareUnit, type Dimension, parseQuantity } from '../../model/quantity.ts';
import { WHOLE_TRIAL } from '../../model/touches.ts';
import { type Entered, isListing, type Listing } from '../listing.ts';
import { orderText } from '../merge-tasting.ts';
import type { FileMap, NewEntry } from '../new-entry.ts';
import { findCrop } from './names.ts';
import { dateInWords } from './typed-date.ts';

/** An entry in words, so that a slip is seen before it is written: names, units, sums. */
export function entryInWords(ledger: Ledger, one: Entered): string {
  if (isListing(one)) return listingInWords(ledger, one);
  const entry: FileMap = one.entry;
  const on = dateInWords(String(entry['on']));
  const parts = [`${on}: ${what(ledger, one)}`];
  if (typeof entry['note'] === 'string') parts.push(`note "${entry['note']}"`);
  if (typeof entry['photo'] === 'string') parts.push(`photo ${entry['photo']}`);
  return parts.join('; ');
}

function what(ledger: Ledger, one: NewEntry): string {
  switch (one.section) {
    case 'counts': {
      const { tree, crop, fruit, branches } = one.entry;
      const on = branches === undefined ? '' : ` on ${counted(branches, 'branch', 'branches')}`;
      return `count of ${treeInWords(ledger, tree)}, ${cropInWords(ledger, crop)}: ${fruit} fruit${on}`;
    }
    case 'picks':
      return `pick of ${treeInWords(ledger, one.entry.tree)}, ${cropInWords(ledger, one.entry.crop)}: ${pickInWords(ledger, one.entry)}`;
    case 'drops': {
      const { tree, crop, fruit } = one.entry;
      return `${fruit} fruit of ${treeInWords(ledger, tree)}, ${cropInWords(ledger, crop)}, dropped`;
    }
    case 'tastings':
      return tastingInWords(ledger, one.entry);
    case 'events':
      return eventInWords(ledger, one.entry);
    default:
      return plainInWords(ledger, one);
  }
}

/** An entry of one tree whose fields are told one by one. */
function plainInWords(ledger: Ledger, { section, entry }: PlainEntry): string {
  const {
    on: _,
    tree: __,
    note: ___,
    photo: ____,
    ...own
  }: EntryFields = CATALOGUE[section].fields;
  return `${treeInWords(ledger, entry.tree)}: ${toldFields(ledger, own, { ...entry }).join(', ')}`;
}

type PlainEntry = Exclude<
  NewEntry,
  { section: 'counts' | 'picks' | 'drops' | 'tastings' | 'events' }
>;

function pickInWords(
  ledger: Ledger,
  entry: Extract<NewEntry, { section: 'picks' }>['entry'],
): string {
  const weights = entry.weights ?? [];
  const parts = [`${entry.fruit ?? weights.length} fruit`];
  if (weights.length > 0) {
    const mean = weights.length === 1 ? '' : `, mean ${meanInWords(ledger, weights)}`;
    const of =
      entry.fruit !== undefined && entry.fruit > weights.length ? `${weights.length} weighed` : '';
    const list = weights.map((one) => bareText(one)).join(', ');
    parts.push(
      `${[of, list].filter(Boolean).join(' ')} ${bareUnit(ledger.trial.units, 'weight')}${mean}`,
    );
  }
  if (entry.weight !== undefined) {
    const fruit = entry.fruit ?? weights.length;
    const each = gramsInWords(ledger, grams(ledger, entry.weight) / fruit);
    const mean = fruit > 1 ? `, ${each} each` : '';
    parts.push(`${withUnit(ledger, entry.weight, 'weight')} together${mean}`);
  }
  if (entry.sample !== undefined) parts.push(`weighed: ${entry.sample}`);
  for (const defect of DEFECTS) {
    if (entry[defect] !== undefined) parts.push(`${entry[defect]} ${defect}`);
  }
  return parts.join('; ');
}

function tastingInWords(
  ledger: Ledger,
  entry: Extract<NewEntry, { section: 'tastings' }>['entry'],
): string {
  const samples = entry.samples.map((sample) => {
    const facts = [
      cropInWords(ledger, sample.crop),
      sample.as === undefined ? [] : [`served as ${sample.as}`],
      sample.ripeness ?? [],
      sample.brix === undefined ? [] : [`${sample.brix} degrees Brix`],
      sample.eye === undefined ? [] : [`eye ${withUnit(ledger, sample.eye, 'width')}`],
    ].flat();
    return `${treeInWords(ledger, sample.tree)}, ${facts.join(', ')}`;
  });
  const scores = Object.entries(entry.scores ?? {}).flatMap(([taster, sheet]) =>
    Object.entries(sheet).map(([label, values]) => {
      const list = Object.entries(values).map(([trait, value]) => `${trait} ${value}`);
      return `${tasterName(ledger, taster)} scores ${label}: ${list.join(', ')}`;
    }),
  );
  const words = Object.entries(entry.words ?? {}).flatMap(([taster, sheet]) =>
    Object.entries(sheet).map(
      ([label, list]) => `${tasterName(ledger, taster)} says of ${label}: ${list.join(', ')}`,
    ),
  );
  const orders = Object.entries(entry.order ?? {}).map(
    ([taster, order]) => `${tasterName(ledger, taster)} puts first to last ${orderText(order)}`,
  );
  return `tasting of ${[samples.join(' and of '), ...scores, ...words, ...orders].join('; ')}`;
}

function eventInWords(
  ledger: Ledger,
  entry: Extract<NewEntry, { section: 'events' }>['entry'],
): string {
  const { sites } = ledger.trial;
  if (entry.kind === 'move') {
    const site = sites.get(String(entry.site))?.name ?? entry.site;
    return `${treeInWords(ledger, entry.tree)} moved to ${site}`;
  }
  const site = 'site' in entry ? entry.site : undefined;
  const where =
    entry.tree !== undefined
      ? treeInWords(ledger, entry.tree)
      : site !== undefined && (site !== WHOLE_TRIAL || sites.has(WHOLE_TRIAL))
        ? `all trees at ${sites.get(String(site))?.name ?? site}`
        : 'the whole trial';
  const { tree: _, site: __, ...own }: EntryFields = EVENTS[entry.kind].fields;
  return [`${entry.kind}, ${where}`, ...toldFields(ledger, own, { ...entry })].join(', ');
}

/** What an entry says in these fields, in their order. */
function toldFields(ledger: Ledger, fields: EntryFields, said: FileMap): readonly string[] {
  return Object.entries(fields).flatMap(([key, one]) => {
    const { holds } = one;
    const value = said[key];
    if (typeof value !== 'string' && typeof value !== 'number') return [];
    const text = holds.kind === 'amount' ? withUnit(ledger, value, holds.dimension) : String(value);
    return [toldField(key, one, text)];
  });
}

/** What a tree has given on the day, with the entry that is about to be written. */
export function runningTotal(
  ledger: Ledger,
  before: readonly Entered[],
  one: Entered,
): readonly string[] {
  if (one.section !== 'picks') return [];
  const { on, tree } = one.entry;
  const crop = findCrop(ledger, String(one.entry.crop));
  const written = ledger.seasons
    .flatMap((season) => season.picks)
    .filter((pick) => pick.on === on && pick.tree.id === String(tree) && pick.crop === crop);
  const typed = [...before, one].flatMap((other) =>
    other.section === 'picks' &&
    other.entry.on === on &&
    String(other.entry.tree) === String(tree) &&
    findCrop(ledger, String(other.entry.crop)) === crop
      ? [other.entry]
      : [],
  );
  const fruit =
    written.reduce((sum, pick) => sum + pick.fruit, 0) +
    typed.reduce((sum, pick) => sum + (pick.fruit ?? pick.weights?.length ?? 0), 0);
  const weights = [
    ...written.flatMap((pick) => pick.weights),
    ...typed.flatMap((pick) => pick.weights ?? []).map((text) => grams(ledger, text)),
  ];
  const mean = weights.length === 0 ? '' : `, ${gramsInWords(ledger, average(weights))} on average`;
  return [`${tree} that day: ${fruit} fruit${mean}`];
}

function treeInWords(ledger: Ledger, id: string | number): string {
  const name = ledger.trees.get(String(id))?.cultivar.name;
  return name === undefined ? String(id) : `${name} (${id})`;
}

function cropInWords(ledger: Ledger, word: string | number): string {
  const crop: Crop | undefined = findCrop(ledger, String(word));
  const own = crop === undefined ? String(word) : ledger.trial.cropNames[crop];
  return crop === undefined || own === crop ? `${own} crop` : `${crop} crop (${own})`;
}

function tasterName(ledger: Ledger, key: string): string {
  return ledger.trial.tasters.get(key)?.name ?? key;
}

function withUnit(ledger: Ledger, value: number | string, dimension: Dimension): string {
  return typeof value === 'string' ? value : `${value} ${bareUnit(ledger.trial.units, dimension)}`;
}

function bareText(value: number | string): string {
  return typeof value === 'string' ? `(${value})` : String(value);
}

function grams(ledger: Ledger, value: number | string): number {
  return parseQuantity(value, 'weight', ledger.trial.units) ?? 0;
}

function meanInWords(ledger: Ledger, weights: readonly (number | string)[]): string {
  return gramsInWords(ledger, average(weights.map((one) => grams(ledger, one))));
}

function gramsInWords(ledger: Ledger, weight: number): string {
  const unit = bareUnit(ledger.trial.units, 'weight');
  const size = parseQuantity(1, 'weight', ledger.trial.units) ?? 1;
  return `${(weight / size).toFixed(unit === 'g' ? 1 : 2)} ${unit}`;
}

function average(values: readonly number[]): number {
  return values.reduce((sum, value) => sum + value, 0) / values.length;
}

function counted(number: number, one: string, many: string): string {
  return `${number} ${number === 1 ? one : many}`;
}

/** What is listed, in words, so that a slip is seen before it is written. */
function listingInWords(ledger: Ledger, one: Listing): string {
  switch (one.section) {
    case 'cultivars':
      return [
        `new cultivar ${String(one.entry['name'])} (${one.key})`,
        ...facts(one.entry, Object.keys(cultivar.fields).slice(1)),
      ].join('; ');
    case 'trees': {
      const key = String(one.entry['cultivar']);
      const name = ledger.cultivars.get(key)?.name ?? key;
      const site = String(one.entry['site']);
      const place = ledger.trial.sites.get(site)?.name ?? site;
      const rest = Object.keys(tree.fields).filter(
        (field) => !['cultivar', 'site'].includes(field),
      );
      return [
        `new tree ${one.key} of ${name}`,
        `stands at ${place}`,
        ...facts(one.entry, rest),
      ].join('; ');
    }
    case 'tasters':
      return `new taster ${one.entry}, typed as ${one.key}`;
    case 'sites':
      return `new site ${String(one.entry['name'])} (${one.key}), ${COVER_WORDS[one.entry['cover'] as Cover] ?? one.entry['cover']}`;
    case 'removals':
      return `${dateInWords(one.entry)}: ${treeInWords(ledger, one.key)} is there no longer`;
    case 'settings':
      return `ledger.yaml will say ${one.key}: ${one.entry}`;
  }
}

function facts(entry: FileMap, keys: readonly string[]): readonly string[] {
  return keys.flatMap((key) => {
    const value = entry[key];
    if (value === undefined) return [];
    const words = key.replaceAll('_', ' ');
    if (Array.isArray(value)) return [`${words} ${value.join(', ')}`];
    if (typeof value === 'object')
      return [`${words} ${Object.values(value as FileMap).join(': ')}`];
    return [`${words} ${String(value)}`];
  });
}
