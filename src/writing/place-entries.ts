import { type Diagnostic, diagnose } from '../diagnostics/diagnostic.ts';
import {
  entryListFlow,
  entryRootFlow,
  entryUnreadable,
  entryUnsafe,
} from '../diagnostics/words/entry-placing.ts';
import { SECTIONS } from '../entries/catalogue.ts';
import { shape } from '../reading/shape.ts';
import { readYaml, type YamlRead } from '../reading/yaml-read.ts';
import { yamlRoot } from '../reading/yaml-tree.ts';
import type { SourceFile, Spot } from '../source/source-file.ts';
import { applyEdits, type Edit, lineEndAt } from './edit.ts';
import { type CropNames, type FileMap, isFileMap, type NewEntry } from './new-entry.ts';
import { type Refusal, refusal } from './outcome.ts';
import { planEdits } from './plan-edits.ts';
import { planSection, type SectionPlan } from './plan-values.ts';
import { sameValue } from './same-value.ts';
import { newSeasonLines, sectionLines } from './season-file.ts';

/** A season file with new entries in it, and where each of them stands. */
export interface PlacedEntries {
  readonly kind: 'placed';
  readonly file: SourceFile;
  readonly added: readonly { readonly entry: NewEntry; readonly at: Spot }[];
}

/**
 * Entries put into a season file, each after the last entry of its section whose date is not later,
 * every other byte as it was. A tasting entry joins the sitting of its date, if there is one. An
 * empty file is begun.
 *
 * The result has been read again: it says what the old file said with the entries added, and nothing
 * else. Otherwise the answer is a refusal, with what to do.
 *
 * @param file `seasons/YYYY.yaml`; the year in its name begins an empty file
 * @param read how the text of a file is read; who reads the same texts for more may keep it
 * @param crops the ledger's own words for the crops, so that samples of a sitting are recognised
 */
export function placeEntries(
  file: SourceFile,
  entries: readonly NewEntry[],
  crops?: CropNames,
  read = readYaml,
): PlacedEntries | Refusal {
  const old = read(file);
  if (old.diagnostics.length > 0) return refusal(...old.diagnostics);
  const wrong = entries.flatMap(entryProblems);
  if (wrong.length > 0) return refusal(...wrong);
  const value = old.value ?? {};
  if (!isFileMap(value)) return refusal(diagnose(entryUnreadable, wholeFile(file), {}));
  const root = yamlRoot(file);
  if (root?.isFlow) return refusal(diagnose(entryRootFlow, wholeFile(file), {}));

  const plans = planAll(file, value, entries, crops);
  if ('problems' in plans) return refusal(...plans.problems);
  const begun = root === undefined || root.pairs.length === 0;
  const planned = begun ? beginFile(file, plans.plans) : planEdits(file.text, root, plans.plans);
  if ('stuck' in planned) {
    const spot: Spot = { file, path: [planned.stuck], part: 'key' };
    return refusal(diagnose(entryListFlow, spot, { key: planned.stuck }));
  }
  const expected: Record<string, unknown> = begun
    ? { season: yearOf(file), ...value }
    : { ...value };
  for (const plan of plans.plans) expected[plan.section] = plan.values;
  const made: SourceFile = { ...file, text: applyEdits(file.text, planned.edits) };
  const what = whatIsAmiss(read(made), expected);
  if (what !== undefined) return refusal(diagnose(entryUnsafe, wholeFile(file), { what }));
  return placedIn(made, plans.plans, entries);
}

function planAll(
  file: SourceFile,
  value: FileMap,
  entries: readonly NewEntry[],
  crops: CropNames | undefined,
): { readonly plans: readonly SectionPlan[] } | { readonly problems: readonly Diagnostic[] } {
  const plans: SectionPlan[] = [];
  const problems: Diagnostic[] = [];
  for (const section of SECTIONS) {
    const own = entries.filter((one) => one.section === section);
    if (own.length === 0) continue;
    const old = value[section] ?? [];
    if (!Array.isArray(old)) {
      const shaped = shape('season', value, file, 1).diagnostics;
      problems.push(...shaped.filter(({ at }) => 'path' in at && at.path[0] === section));
      continue;
    }
    const plan = planSection(file, section, old, own, crops);
    if ('problems' in plan) problems.push(...plan.problems);
    else plans.push(plan);
  }
  return problems.length > 0 ? { problems } : { plans };
}

/** What is wrong with an entry itself, marked in the text that it would make. */
function entryProblems(one: NewEntry): readonly Diagnostic[] {
  const value = { season: 2000, [one.section]: [one.entry] };
  const text = sectionLines(one.section, [one.entry]).join('\n');
  const file: SourceFile = { path: 'the new entry', text: `season: 2000\n${text}\n`, bom: false };
  return shape('season', value, file, 2).diagnostics;
}

/** A file that says nothing yet: its comments stay on top. */
function beginFile(file: SourceFile, plans: readonly SectionPlan[]): { edits: readonly Edit[] } {
  const entries = plans.flatMap(({ section, values }) =>
    values.map((entry) => ({ section, entry }) as NewEntry),
  );
  const lines = newSeasonLines(yearOf(file), entries);
  const eol = lineEndAt(file.text, file.text.length);
  const gap = file.text === '' || file.text.endsWith('\n') ? '' : eol;
  // Comments that are there already say what the file is.
  const own = file.text.trim() === '' ? lines : lines.slice(1);
  const insert = `${gap}${own.join(eol)}${eol}`;
  return { edits: [{ at: file.text.length, remove: 0, insert }] };
}

function yearOf(file: SourceFile): number {
  return Number(/(\d{4})\.ya?ml$/.exec(file.path)?.[1] ?? 0);
}

/** Why what was read of an edited file is not what it must be, if it is not. */
function whatIsAmiss({ value, diagnostics }: YamlRead, expected: FileMap): string | undefined {
  const [problem] = diagnostics;
  if (problem !== undefined) return `the result would not be YAML: ${problem.message}`;
  return sameValue(value, expected)
    ? undefined
    : 'the result would not read as the old entries with the new ones added';
}

function placedIn(
  file: SourceFile,
  plans: readonly SectionPlan[],
  entries: readonly NewEntry[],
): PlacedEntries {
  const placeOf = (entry: NewEntry): Spot => {
    const index = plans.find((plan) => plan.section === entry.section)?.places.get(entry) ?? 0;
    return { file, path: [entry.section, index], part: 'value' };
  };
  return { kind: 'placed', file, added: entries.map((entry) => ({ entry, at: placeOf(entry) })) };
}

function wholeFile(file: SourceFile) {
  return { file, start: 0, end: 0 };
}
