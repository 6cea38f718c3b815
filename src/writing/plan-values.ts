import { type Diagnostic, diagnose } from '../diagnostics/diagnostic.ts';
import { sittingConflict, sittingUnclear } from '../diagnostics/words/entry-placing.ts';
import type { RawTasting } from '../entries/derive/schemas.ts';
import type { SeasonSection } from '../model/ledger.ts';
import type { SourceFile } from '../source/source-file.ts';
import { mergeTasting, type SittingAddition, sittingFor } from './merge-tasting.ts';
import { type CropNames, type FileMap, isFileMap, type NewEntry } from './new-entry.ts';

/** What is to change in one section, in values alone. */
export interface SectionPlan {
  readonly section: SeasonSection;
  /** New entries by the index of the old entry before which they go, each group in date order. */
  readonly inserts: ReadonlyMap<number, readonly FileMap[]>;
  /** Sittings that grow, by their old index. */
  readonly grown: ReadonlyMap<number, SittingAddition>;
  /** The section as it will read. */
  readonly values: readonly unknown[];
  /** For each entry given, the index at which it will stand. */
  readonly places: ReadonlyMap<NewEntry, number>;
}

/** Where new entries of one section go: each after the last entry whose date is not later. */
export function planSection(
  file: SourceFile,
  section: SeasonSection,
  old: readonly unknown[],
  entries: readonly NewEntry[],
  crops: CropNames | undefined,
): SectionPlan | { readonly problems: readonly Diagnostic[] } {
  const problems: Diagnostic[] = [];
  const grown = new Map<number, SittingAddition>();
  const fresh: Fresh[] = [];
  const grownBy = new Map<NewEntry, number>();
  for (const one of entries) {
    if (one.section !== 'tastings') {
      fresh.push({ fields: one.entry, from: [one] });
      continue;
    }
    const problem = joinSitting(file, old, one, { grown, grownBy, fresh, crops });
    problems.push(...problem);
  }
  if (problems.length > 0) return { problems };

  const inserts = new Map<number, Fresh[]>();
  for (const one of fresh) {
    const index = old.findLastIndex((entry) => dateOf(entry) <= dateOf(one.fields)) + 1;
    inserts.set(index, [...(inserts.get(index) ?? []), one]);
  }
  const values: unknown[] = [];
  const places = new Map<NewEntry, number>();
  const movedTo: number[] = [];
  for (let index = 0; index <= old.length; index++) {
    const group = (inserts.get(index) ?? []).sort((a, b) => byDate(a.fields, b.fields));
    for (const one of group) {
      for (const from of one.from) places.set(from, values.length);
      values.push(one.fields);
    }
    if (index === old.length) break;
    movedTo.push(values.length);
    values.push(grown.get(index)?.merged ?? old[index]);
  }
  for (const [entry, index] of grownBy) places.set(entry, movedTo[index] ?? 0);
  const bare = new Map([...inserts].map(([index, group]) => [index, group.map((f) => f.fields)]));
  return { section, inserts: bare, grown, values, places };
}

/** An entry that is to be written, and what it was made from: one sitting may come in pieces. */
interface Fresh {
  fields: FileMap;
  readonly from: NewEntry[];
}

interface Sittings {
  readonly grown: Map<number, SittingAddition>;
  readonly grownBy: Map<NewEntry, number>;
  readonly fresh: Fresh[];
  readonly crops: CropNames | undefined;
}

function joinSitting(
  file: SourceFile,
  old: readonly unknown[],
  one: Extract<NewEntry, { section: 'tastings' }>,
  { grown, grownBy, fresh, crops }: Sittings,
): readonly Diagnostic[] {
  const date = one.entry.on;
  const sittings = old.flatMap((tasting, index) =>
    isTasting(tasting) && tasting.on === date
      ? [{ index, tasting: grown.get(index)?.merged ?? tasting }]
      : [],
  );
  const target = sittingFor(sittings, one.entry, crops, one.sitting !== undefined);
  const spot = { file, path: ['tastings', sittings[0]?.index ?? 0], part: 'value' as const };
  const clashes = (conflicts: readonly { what: string; old: string; new: string }[]) =>
    conflicts.map((conflict) => diagnose(sittingConflict, spot, conflict));
  if (target === 'unclear') {
    return [diagnose(sittingUnclear, spot, { date, count: sittings.length })];
  }
  if (target === 'new') {
    const begun = fresh.find(
      ({ fields, from }) => fields['on'] === date && sittingOf(from[0]) === one.sitting,
    );
    if (begun === undefined) {
      fresh.push({ fields: one.entry, from: [one] });
      return [];
    }
    const merge = mergeTasting(begun.fields as RawTasting, one.entry, crops);
    if ('conflicts' in merge) return clashes(merge.conflicts);
    begun.fields = merge.merged;
    begun.from.push(one);
    return [];
  }
  const base = old[target.index] as RawTasting;
  const sofar = grown.get(target.index)?.merged ?? base;
  const step = mergeTasting(sofar, one.entry, crops);
  if ('conflicts' in step) return clashes(step.conflicts);
  // The whole of what is new, against what stands in the file.
  const whole = mergeTasting(base, step.merged, crops);
  if ('conflicts' in whole) return clashes(whole.conflicts);
  grown.set(target.index, whole);
  grownBy.set(one, target.index);
  return [];
}

function sittingOf(one: NewEntry | undefined): string | undefined {
  return one?.section === 'tastings' ? one.sitting : undefined;
}

function isTasting(value: unknown): value is RawTasting {
  return isFileMap(value) && typeof value['on'] === 'string' && Array.isArray(value['samples']);
}

/** Where the date cannot be read, one later than all: a new entry passes such a neighbour over. */
function dateOf(entry: unknown): string {
  const date = isFileMap(entry) ? entry['on'] : undefined;
  return typeof date === 'string' ? date : '\uffff';
}

function byDate(a: FileMap, b: FileMap): number {
  const [left, right] = [dateOf(a), dateOf(b)];
  return left < right ? -1 : left > right ? 1 : 0;
}
