import { SEASON_KEYS } from '../entries/derive/schemas.ts';
import type { SeasonSection } from '../model/ledger.ts';
import type { YamlNode, YamlPair } from '../reading/yaml-node.ts';
import { lineStart } from '../source/position.ts';
import { columnOf, type Edit, insertLines, lineAfter } from './edit.ts';
import { graftSitting } from './graft-sitting.ts';
import { aboveComments, insertItems, type Rendering } from './insert-items.ts';
import type { FileMap, NewEntry } from './new-entry.ts';
import type { SectionPlan } from './plan-values.ts';
import { renderFlow, renderItem } from './render-entry.ts';
import { sectionLines } from './season-file.ts';
/** The edits that carry out the plans, or the key at which they cannot be made. */
export function planEdits(
  text: string,
  root: YamlNode,
  plans: readonly SectionPlan[],
): { readonly edits: readonly Edit[] } | { readonly stuck: string } {
  const edits: Edit[] = [];
  const column = columnOf(text, root.start);
  for (const plan of plans) {
    const pair = root.pair(plan.section);
    if (pair === undefined) {
      edits.push(newSection(text, root, column, plan));
      continue;
    }
    const made = sectionEdits(text, column, pair, plan);
    if (made === undefined) return { stuck: plan.section };
    edits.push(...made);
  }
  return { edits };
}

function sectionEdits(
  text: string,
  column: number,
  pair: YamlPair,
  plan: SectionPlan,
): readonly Edit[] | undefined {
  const edits: Edit[] = [];
  if (plan.inserts.size > 0) {
    const groups = [...plan.inserts].map(([index, items]) => ({
      index,
      items: items.map((entry) => rendering(plan.section, entry)),
    }));
    const made = insertItems(text, column, pair, groups);
    if (made === undefined) return undefined;
    edits.push(...made);
  }
  // Growing sittings come first, so that at a shared place their lines stay with them.
  const growth: Edit[] = [];
  for (const [index, addition] of plan.grown) {
    const node = pair.value.items[index];
    const made = node?.kind === 'map' ? graftSitting(text, node, addition) : undefined;
    if (made === undefined) return undefined;
    growth.push(...made);
  }
  return [...growth, ...edits];
}

function rendering(section: SeasonSection, entry: FileMap): Rendering {
  return {
    lines: (indent) => renderItem(section, entry, indent),
    flow: () => renderFlow(entry, section),
  };
}

/** A section that the file does not have yet, in its place among the others. */
function newSection(text: string, root: YamlNode, column: number, plan: SectionPlan): Edit {
  const rank = (key: string) => SEASON_KEYS.indexOf(key);
  const own = rank(plan.section);
  let before: YamlPair | undefined;
  for (const pair of root.pairs) {
    const other = rank(pair.key.text);
    if (other >= 0 && other < own && (before === undefined || other > rank(before.key.text)))
      before = pair;
  }
  const lines = sectionLines(plan.section, plan.values as readonly NewEntry['entry'][], column);
  const spaced = hasSpacedSections(text, root);
  if (before === undefined) {
    const at = lineStart(text, root.start);
    return insertLines(text, at, [...lines, ...(spaced ? [''] : [])]);
  }
  const at = lineAfter(text, before.value, column);
  return insertLines(text, at, spaced ? ['', ...lines] : lines);
}

/** Whether blank lines part the sections that are there; true where there are none to look at. */
function hasSpacedSections(text: string, root: YamlNode): boolean {
  const starts = root.pairs.map(({ key }) => lineStart(text, key.start));
  if (starts.length < 2) return true;
  return starts.slice(1).some((start) => {
    const block = aboveComments(text, start);
    return block > 0 && text.slice(lineStart(text, block - 1), block).trim() === '';
  });
}
