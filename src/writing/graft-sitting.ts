import type { YamlNode } from '../reading/yaml-node.ts';
import { columnOf, type Edit } from './edit.ts';
import { fillEmpty, insertItems, insertPairs, type Rendering } from './insert-items.ts';
import type { SittingAddition } from './merge-tasting.ts';
import { type FileMap, isFileMap } from './new-entry.ts';
import { renderFlow, renderItem, renderKey, renderPair } from './render-entry.ts';

/**
 * Edits that write what is new about a sitting into its place: samples, keys of samples, scores and
 * orders. Undefined where brackets with comments stand in the way.
 */
export function graftSitting(
  text: string,
  sitting: YamlNode,
  addition: SittingAddition,
): readonly Edit[] | undefined {
  const tops: { key: string; value: unknown }[] = Object.entries(addition.fields).map(
    ([key, value]) => ({ key, value }),
  );
  const inner: (readonly Edit[] | undefined)[] = [];
  const samples = sitting.pair('samples');
  const column = columnOf(text, sitting.start);
  // At a shared place the innermost comes first, so that its lines stay with it.
  for (const [index, fields] of addition.sampleFields) {
    const node = samples?.value.items[index];
    inner.push(node?.kind === 'map' ? insertPairs(text, node, pairRenderings(fields)) : undefined);
  }
  if (addition.newSamples.length > 0) {
    if (samples === undefined) tops.push({ key: 'samples', value: addition.newSamples });
    else {
      const index = samples.value.items.length;
      const items = addition.newSamples.map(sampleRendering);
      inner.push(insertItems(text, column, samples, [{ index, items }]));
    }
  }
  for (const key of ['scores', 'words', 'order'] as const) {
    const values: FileMap = addition[key];
    if (Object.keys(values).length === 0) continue;
    if (sitting.pair(key) === undefined) tops.push({ key, value: values });
    else inner.push(graftMap(text, sitting, key, values));
  }
  const pairs = tops.flatMap(({ key, value }) => pairRenderings({ [key]: value }));
  const edits = [...inner, insertPairs(text, sitting, pairs)];
  return edits.every((one) => one !== undefined) ? edits.flat() : undefined;
}

/** Adds values to the map behind a key, going down into maps that are already there. */
function graftMap(
  text: string,
  parent: YamlNode,
  key: string,
  values: FileMap,
): readonly Edit[] | undefined {
  const pair = parent.pair(key);
  if (pair === undefined) return undefined;
  const map = pair.value;
  if (map.pairs.length === 0) {
    if (parent.isFlow) {
      return map.kind === 'map' ? insertPairs(text, map, pairRenderings(values)) : undefined;
    }
    const column = columnOf(text, parent.start);
    const lines = (indent: number) => pairRenderings(values).flatMap((one) => one.lines(indent));
    return fillEmpty(text, pair, lines, column);
  }
  const known = new Set(map.pairs.map((one) => one.key.text));
  const fresh = Object.entries(values).filter(([inner]) => !known.has(inner));
  const edits: (readonly Edit[] | undefined)[] = [];
  for (const [inner, value] of Object.entries(values)) {
    if (!known.has(inner)) continue;
    if (Array.isArray(value)) edits.push(graftList(text, map, inner, value));
    else edits.push(isFileMap(value) ? graftMap(text, map, inner, value) : undefined);
  }
  edits.push(insertPairs(text, map, pairRenderings(Object.fromEntries(fresh))));
  return edits.every((one) => one !== undefined) ? edits.flat() : undefined;
}

/** Adds plain values at the end of the list behind a key. */
function graftList(
  text: string,
  parent: YamlNode,
  key: string,
  values: readonly unknown[],
): readonly Edit[] | undefined {
  const pair = parent.pair(key);
  if (pair === undefined) return undefined;
  const items = values.map((value) => ({
    lines: (indent: number) => [`${' '.repeat(indent)}- ${renderFlow(value)}`],
    flow: () => renderFlow(value),
  }));
  const index = pair.value.items.length;
  if (index === 0 && parent.isFlow) {
    const { start, end, isFlow } = pair.value;
    if (!isFlow) return undefined;
    return [{ at: start, remove: end - start, insert: renderFlow(values) }];
  }
  return insertItems(text, columnOf(text, parent.start), pair, [{ index, items }]);
}

function sampleRendering(sample: FileMap): Rendering {
  return {
    lines: (indent) => renderItem('samples', sample, indent),
    flow: () => renderFlow(sample, 'samples'),
  };
}

function pairRenderings(fields: FileMap) {
  return Object.entries(fields).map(([key, value]) => ({
    key,
    flow: `${renderKey(key)}: ${renderFlow(value)}`,
    lines: (indent: number) =>
      renderPair(key, value, indent, key === 'samples' ? 'samples' : undefined),
  }));
}
