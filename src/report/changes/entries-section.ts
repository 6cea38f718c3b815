import { groupBy } from '../../measure/group-by.ts';
import { decimalText } from '../decimal-text.ts';
import type { Line, LinesSection, Said } from '../page.ts';
import { counted } from '../words.ts';
import type { EntryChange, FieldChange } from './compare-entries.ts';
import type { Entry, EntryKind, FieldValue } from './entry.ts';

/** Entries that were added, removed or altered, tree by tree. */
export function entriesSection(changes: readonly EntryChange[]): LinesSection {
  const bySubject = groupBy(changes, ({ entry }) => leadOf(entry));
  return {
    kind: 'lines',
    key: 'entries',
    heading: 'Entries',
    lines:
      changes.length === 0
        ? [{ lead: '', text: 'No entry was added, removed or altered.' }]
        : [...bySubject].flatMap(([lead, own]) => linesOf(lead, own)),
    says: changes.map(changeSaid),
  };
}

/** More than so many alike are told in one line. */
const MOST_SINGLY = 3;

function linesOf(lead: string, changes: readonly EntryChange[]): readonly Line[] {
  const alike = groupBy(changes, ({ what, entry }) =>
    JSON.stringify([what, entry.kind, entry.crop, what === 'altered' ? entry.on : null]),
  );
  return [...alike.values()]
    .flatMap((own) => (own.length > MOST_SINGLY ? [manyWords(own)] : own.map(changeWords)))
    .map((text) => ({ lead, text }));
}

function leadOf({ kind, tree, on, cultivar }: Entry): string {
  if (tree !== undefined) return tree;
  if (kind === 'setting') return 'ledger.yaml';
  if (kind === 'cultivar') return cultivar ?? '';
  return kind === 'weather' ? 'weather' : (on ?? '');
}

function manyWords(changes: readonly EntryChange[]): string {
  const [{ what, entry } = { what: 'added', entry: undefined }] = changes;
  const days = changes.flatMap((change) => change.entry.on ?? []).toSorted();
  const span = days.length === 0 ? '' : `, ${days[0]} to ${days.at(-1)}`;
  const crop = entry?.crop === undefined ? '' : ` of the ${entry.crop} crop`;
  return `${what}: ${counted(changes.length, NOUNS[entry?.kind ?? 'pick'][0], NOUNS[entry?.kind ?? 'pick'][1])}${crop}${span}`;
}

const NOUNS: Readonly<Record<EntryKind, readonly [one: string, many: string]>> = {
  setting: ['setting', 'settings'],
  cultivar: ['cultivar', 'cultivars'],
  tree: ['tree', 'trees'],
  count: ['count', 'counts'],
  pick: ['pick', 'picks'],
  drop: ['drop', 'drops'],
  tasting: ['tasting', 'tastings'],
  sample: ['tasted sample', 'tasted samples'],
  growth: ['measuring', 'measurings'],
  event: ['event', 'events'],
  weather: ['day of weather', 'days of weather'],
};

function changeWords(change: EntryChange): string {
  const { what, entry } = change;
  const fields =
    change.what === 'altered'
      ? change.fields.map(fieldWords).join('; ')
      : Object.entries(entry.fields)
          .map(([field, value]) => (field === 'value' ? shown(value) : `${field} ${shown(value)}`))
          .join(', ');
  const head = `${what}: ${entryWords(entry)}`;
  return fields === '' ? head : `${head}: ${fields}`;
}

function entryWords({ kind, name, crop, on }: Entry): string {
  if (kind === 'setting') return name ?? '';
  const [noun] = NOUNS[kind];
  const where = kind === 'event' ? name : undefined;
  const parts = [where, crop === undefined ? undefined : `${crop} crop`, on];
  return [noun, ...parts.filter((part) => part !== undefined)].join(', ');
}

function fieldWords({ field, before, after }: FieldChange): string {
  const name = field === 'value' ? '' : `${field === 'on' ? 'day' : field} `;
  if (before === undefined)
    return `${name}${after === undefined ? '' : shown(after)} (was not there)`;
  if (after === undefined) return `${name}taken away (was ${shown(before)})`;
  return `${name}${shown(after)} (was ${shown(before)})`;
}

/** Numbers converted from other units have more digits than anyone wrote. */
function shown(value: FieldValue): string {
  if (typeof value === 'number') return numberText(value);
  if (typeof value === 'boolean') return value ? 'yes' : 'no';
  if (typeof value === 'string') return value;
  return `[${value.map((one) => (typeof one === 'number' ? numberText(one) : one)).join(', ')}]`;
}

function numberText(value: number): string {
  return Number.isInteger(value) ? String(value) : String(Number(decimalText(value, 3)));
}

function changeSaid(change: EntryChange): Said {
  const { what, entry } = change;
  const { kind, name = null, tree = null, crop = null, on = null } = entry;
  const base = { what, kind, name, tree, crop, on };
  if (change.what !== 'altered') return { ...base, fields: entry.fields };
  return {
    ...base,
    changes: change.fields.map(({ field, before = null, after = null }) => ({
      field,
      before,
      after,
    })),
  };
}
