import type { RawTasting } from '../entries/derive/schemas.ts';
import type { CropNames } from './new-entry.ts';
import { sameValue } from './same-value.ts';

type RawSample = RawTasting['samples'][number];
type RawScores = NonNullable<RawTasting['scores']>;
type RawWords = NonNullable<RawTasting['words']>;
type RawOrder = NonNullable<RawTasting['order']>;

/** What a tasting entry adds to a sitting that is already written down. */
export interface SittingAddition {
  readonly fields: Readonly<Record<string, unknown>>;
  readonly newSamples: readonly RawSample[];
  /** New keys of samples that are already there, by their index. */
  readonly sampleFields: ReadonlyMap<number, Readonly<Record<string, unknown>>>;
  readonly scores: RawScores;
  /** Of a list that is already there: the words that come at its end. */
  readonly words: RawWords;
  readonly order: RawOrder;
  readonly merged: RawTasting;
}

export interface Conflict {
  readonly what: string;
  readonly old: string;
  readonly new: string;
}

export type Merge = SittingAddition | { readonly conflicts: readonly Conflict[] };

/** The label by which score sheets call a sample. */
function labelOf(sample: RawSample): string {
  return String(sample.as ?? sample.tree);
}

/**
 * A sitting with what a second entry of the same sitting says. Samples are the same if tree, crop
 * and any label given agree; a sample served under a blind label keeps it. What is already written
 * and would change is a conflict.
 */
export function mergeTasting(old: RawTasting, added: RawTasting, crops?: CropNames): Merge {
  const conflicts: Conflict[] = [];
  const { labels, samples, newSamples, sampleFields } = mergeSamples(old, added, crops, conflicts);
  const fields = newFields(old, added, ['note', 'photo'], 'the sitting', conflicts);
  const scores = mergeScores(old, added, labels, conflicts);
  const words = mergeWords(old, added, labels);
  const order = mergeOrder(old, added, labels, conflicts);
  if (conflicts.length > 0) return { conflicts };
  const merged: Record<string, unknown> = { ...old, ...fields, samples };
  if (Object.keys(scores.all).length > 0) merged['scores'] = scores.all;
  if (Object.keys(words.all).length > 0) merged['words'] = words.all;
  if (Object.keys(order).length > 0) merged['order'] = { ...old.order, ...order };
  return {
    fields,
    newSamples,
    sampleFields,
    scores: scores.added,
    words: words.added,
    order,
    merged: merged as RawTasting,
  };
}

function mergeSamples(
  old: RawTasting,
  added: RawTasting,
  crops: CropNames | undefined,
  conflicts: Conflict[],
) {
  const labels = new Map<string, string>();
  const samples = [...old.samples];
  const newSamples: RawSample[] = [];
  const sampleFields = new Map<number, Readonly<Record<string, unknown>>>();
  for (const sample of added.samples) {
    const alike = (one: RawSample) => isSameSample(one, sample, crops);
    const named = samples.findIndex((one) => alike(one) && labelOf(one) === labelOf(sample));
    const index = named >= 0 ? named : samples.findIndex(alike);
    const known = samples[index];
    if (known === undefined) {
      const label = freeLabel(sample, samples);
      const fresh = label === labelOf(sample) ? sample : { ...sample, as: label };
      if (!labels.has(labelOf(sample))) labels.set(labelOf(sample), label);
      samples.push(fresh);
      newSamples.push(fresh);
      continue;
    }
    if (!labels.has(labelOf(sample))) labels.set(labelOf(sample), labelOf(known));
    const keys = ['ripeness', 'brix', 'eye', 'note', 'photo'];
    const fields = newFields(known, sample, keys, `the sample ${labelOf(known)}`, conflicts);
    if (Object.keys(fields).length === 0) continue;
    samples[index] = { ...known, ...fields };
    const place = index - old.samples.length;
    if (place >= 0) newSamples[place] = { ...known, ...fields };
    else sampleFields.set(index, { ...sampleFields.get(index), ...fields });
  }
  return { labels, samples, newSamples, sampleFields };
}

function isSameSample(old: RawSample, added: RawSample, crops: CropNames | undefined): boolean {
  if (added.as !== undefined && String(added.as) !== labelOf(old)) return false;
  return (
    String(old.tree) === String(added.tree) &&
    plainCrop(old.crop, crops) === plainCrop(added.crop, crops)
  );
}

function plainCrop(word: string | number, crops: CropNames | undefined): string {
  if (crops !== undefined && word === crops.early) return 'early';
  if (crops !== undefined && word === crops.main) return 'main';
  return String(word);
}

/** The sample's own label, or the next free one: G3, then G3-main, then G3-main-2. */
function freeLabel(sample: RawSample, taken: readonly RawSample[]): string {
  const used = new Set(taken.map(labelOf));
  const wanted = labelOf(sample);
  if (!used.has(wanted)) return wanted;
  const base = `${wanted}-${sample.crop}`;
  let label = base;
  for (let next = 2; used.has(label); next++) label = `${base}-${next}`;
  return label;
}

function newFields(
  old: object,
  added: object,
  keys: readonly string[],
  what: string,
  conflicts: Conflict[],
): Record<string, unknown> {
  const before = old as Readonly<Record<string, unknown>>;
  const after = added as Readonly<Record<string, unknown>>;
  const fields: Record<string, unknown> = {};
  for (const key of keys) {
    const wanted = after[key] ?? undefined;
    const known = before[key] ?? undefined;
    if (wanted === undefined || sameValue(known, wanted)) continue;
    if (known === undefined) fields[key] = wanted;
    else conflicts.push({ what: `${key} of ${what}`, old: String(known), new: String(wanted) });
  }
  return fields;
}

function mergeScores(
  old: RawTasting,
  added: RawTasting,
  labels: ReadonlyMap<string, string>,
  conflicts: Conflict[],
): { readonly all: RawScores; readonly added: RawScores } {
  const all: Record<string, Record<string, Record<string, number>>> = {};
  for (const [taster, sheet] of Object.entries(old.scores ?? {})) {
    all[taster] = Object.fromEntries(
      Object.entries(sheet ?? {}).map(([label, values]) => [label, { ...values }]),
    );
  }
  const fresh: Record<string, Record<string, Record<string, number>>> = {};
  for (const [taster, sheet] of Object.entries(added.scores ?? {})) {
    for (const [written, values] of Object.entries(sheet)) {
      const label = labels.get(written) ?? written;
      for (const [trait, value] of Object.entries(values)) {
        const known = own(own(own(all, taster), label), trait);
        if (known === value) continue;
        if (known !== undefined) {
          // Served blind, a plate goes by its code, and whoever typed its tree may not know that.
          const plate = label === written ? label : `${written} (served as ${label})`;
          const what = `the score of ${taster} for ${trait} of ${plate}`;
          conflicts.push({ what, old: String(known), new: String(value) });
          continue;
        }
        for (const book of [all, fresh]) {
          book[taster] ??= {};
          book[taster][label] ??= {};
          book[taster][label][trait] = value;
        }
      }
    }
  }
  return { all, added: fresh };
}

/** Words never contradict each other: those that are new come behind those that are there. */
function mergeWords(
  old: RawTasting,
  added: RawTasting,
  labels: ReadonlyMap<string, string>,
): { readonly all: RawWords; readonly added: RawWords } {
  const all: Record<string, Record<string, readonly string[]>> = {};
  for (const [taster, sheet] of Object.entries(old.words ?? {})) all[taster] = { ...sheet };
  const fresh: Record<string, Record<string, readonly string[]>> = {};
  for (const [taster, sheet] of Object.entries(added.words ?? {})) {
    for (const [written, list] of Object.entries(sheet)) {
      const label = labels.get(written) ?? written;
      const known = own(own(all, taster), label) ?? [];
      const more = list.filter((word) => !known.includes(word));
      if (more.length === 0) continue;
      all[taster] = { ...all[taster], [label]: [...known, ...more] };
      fresh[taster] = { ...fresh[taster], [label]: more };
    }
  }
  return { all, added: fresh } as { all: RawWords; added: RawWords };
}

function own<Value>(
  map: Readonly<Record<string, Value>> | undefined,
  key: string,
): Value | undefined {
  return map !== undefined && Object.hasOwn(map, key) ? map[key] : undefined;
}

function mergeOrder(
  old: RawTasting,
  added: RawTasting,
  labels: ReadonlyMap<string, string>,
  conflicts: Conflict[],
): RawOrder {
  const order: RawOrder = {};
  const name = (label: string | number) => labels.get(String(label)) ?? label;
  for (const [taster, list] of Object.entries(added.order ?? {})) {
    const wanted = list.map((step) => (Array.isArray(step) ? step.map(name) : name(step)));
    const known = own(old.order ?? {}, taster);
    if (known === undefined) order[taster] = wanted;
    else if (!sameValue(tiesSorted(known), tiesSorted(wanted))) {
      const what = `the order of ${taster}`;
      conflicts.push({ what, old: orderText(known), new: orderText(wanted) });
    }
  }
  return order;
}

/** An order with the samples of a tie in one order, since they are in none. */
function tiesSorted(order: RawOrder[string]): readonly unknown[] {
  return order.map((step) => (Array.isArray(step) ? step.map(String).sort() : String(step)));
}

/** An order in one line: G3 > Y1 = P2. */
export function orderText(order: RawOrder[string]): string {
  return order.map((step) => (Array.isArray(step) ? step.join(' = ') : String(step))).join(' > ');
}

/**
 * Which of the sittings of a day an entry belongs to: the only one, or the only one with its samples.
 *
 * @param ofSeveral whether it is known to be of one of several, so that the only one may be another
 */
export function sittingFor(
  sittings: readonly { readonly index: number; readonly tasting: RawTasting }[],
  added: RawTasting,
  crops: CropNames | undefined,
  ofSeveral: boolean,
): { readonly index: number } | 'new' | 'unclear' {
  const [first, ...others] = sittings;
  if (first === undefined) return 'new';
  if (others.length === 0) return ofSeveral ? 'unclear' : { index: first.index };
  const fitting = sittings.filter(({ tasting }) =>
    added.samples.every((sample) =>
      tasting.samples.some((one) => isSameSample(one, sample, crops)),
    ),
  );
  const [only, ...more] = fitting;
  return only === undefined || more.length > 0 ? 'unclear' : { index: only.index };
}
