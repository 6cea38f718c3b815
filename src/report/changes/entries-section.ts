import { CATALOGUE } from '../../entries/catalogue.ts';
import { namesOf } from '../../entries/kind.ts';
import { groupBy } from '../../measure/group-by.ts';
import { compareText } from '../../model/canonical-order.ts';
import { type Fact, factsSection, type JsonValue, type Section } from '../document.ts';
import { decimalText } from '../number-words.ts';
import { counted } from '../words.ts';
import type { EntryChange, FieldChange } from './compare-entries.ts';
import type { TwoSides } from './figures-section.ts';
import type { Entry, EntryKind, FieldValue } from './ledger-entries.ts';

/** Entries that were added, removed or altered, tree by tree. */
export function entriesSection(unordered: readonly EntryChange[], comparison: TwoSides): Section {
  const changes = inOrder(unordered, comparison);
  const bySubject = groupBy(changes, ({ entry }) => labelOf(entry));
  return factsSection({
    key: 'entries',
    heading: 'Entries',
    facts:
      changes.length === 0
        ? [{ label: '', text: 'No entry was added, removed or altered.' }]
        : [...bySubject].flatMap(([label, own]) =>
            changes.length > MOST_IN_FULL ? summaryOf(label, own) : linesOf(label, own),
          ),
    says: changes.map(changeSaid),
  });
}

/** Settings, cultivars, then the trees in the ledger's order, sittings, weather; oldest first. */
function inOrder(
  changes: readonly EntryChange[],
  { before, after }: TwoSides,
): readonly EntryChange[] {
  const trees = [...new Set([...after.ledger.trees.keys(), ...before.ledger.trees.keys()])];
  const places = new Map(trees.map((id, place) => [id, place]));
  const groupOf = ({ kind, tree }: Entry) => GROUPS[kind] ?? (tree === undefined ? 3 : 2);
  const treeOf = ({ tree }: Entry) => places.get(tree ?? '') ?? 0;
  return changes.toSorted(
    ({ entry: a }, { entry: b }) =>
      groupOf(a) - groupOf(b) || treeOf(a) - treeOf(b) || compareText(a.on ?? '', b.on ?? ''),
  );
}

const GROUPS: Readonly<Partial<Record<EntryKind, number>>> = {
  setting: 0,
  cultivar: 1,
  tasting: 3,
  weather: 4,
};

/** More than so many in all are told tree by tree. */
const MOST_IN_FULL = 60;

function summaryOf(label: string, changes: readonly EntryChange[]): readonly Fact[] {
  return [...groupBy(changes, ({ what }) => what)].map(([what, own]) => {
    const kinds = [...groupBy(own, ({ entry }) => entry.kind)].map(([kind, some]) =>
      counted(some.length, ...nounsOf(kind)),
    );
    return { label, text: `${what}: ${kinds.join(', ')}${spanOf(own)}` };
  });
}

function spanOf(changes: readonly EntryChange[]): string {
  const days = changes.flatMap(({ entry }) => entry.on ?? []).toSorted();
  const [first] = days;
  if (first === undefined) return '';
  return days.at(-1) === first ? `, ${first}` : `, ${first} to ${days.at(-1)}`;
}

/** More than so many alike are told in one line. */
const MOST_SINGLY = 3;

function linesOf(label: string, changes: readonly EntryChange[]): readonly Fact[] {
  const alike = groupBy(changes, ({ what, entry }) =>
    JSON.stringify([what, entry.kind, entry.crop, what === 'altered' ? entry.on : null]),
  );
  return [...alike.values()]
    .flatMap((own) => (own.length > MOST_SINGLY ? [manyWords(own)] : own.map(changeWords)))
    .map((text) => ({ label, text }));
}

function labelOf({ kind, tree, cultivar }: Entry): string {
  if (tree !== undefined) return tree;
  if (kind === 'setting') return 'ledger.yaml';
  if (kind === 'cultivar') return cultivar ?? '';
  return kind === 'weather' ? 'weather' : 'trial';
}

function manyWords(changes: readonly EntryChange[]): string {
  const { what, entry } = changes[0] ?? { what: 'added', entry: undefined };
  const crop = entry?.crop === undefined ? '' : ` of the ${entry.crop} crop`;
  const number = counted(changes.length, ...nounsOf(entry?.kind ?? 'pick'));
  return `${what}: ${number}${crop}${spanOf(changes)}`;
}

type Nouns = readonly [one: string, many: string];

const NOUNS: ReadonlyMap<EntryKind, Nouns> = new Map<EntryKind, Nouns>([
  ...Object.values(CATALOGUE).map((kind): [EntryKind, Nouns] => [kind.one, namesOf(kind)]),
  ['sample', ['tasted sample', 'tasted samples']],
  ['tree', ['its record', 'records']],
  ['weather', ['day of weather', 'days of weather']],
]);

function nounsOf(kind: EntryKind): Nouns {
  return NOUNS.get(kind) ?? [kind, `${kind}s`];
}

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
  const [noun] = nounsOf(kind);
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

function changeSaid(change: EntryChange): JsonValue {
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
