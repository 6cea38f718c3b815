import type { Diagnostic, LocatedDiagnostic } from '../diagnostics/diagnostic.ts';
import { isSpan, type Place, type Span, type Spot } from '../source/source-file.ts';
import type { YamlNode, YamlPair } from './yaml-node.ts';
import { yamlRoot } from './yaml-tree.ts';

/** The offsets of a place. What cannot be found points at the nearest thing around it. */
export function locate(place: Place): Span {
  if (isSpan(place)) return within(place);
  let node = yamlRoot(place.file);
  if (node === undefined) return within({ file: place.file, start: 0, end: 1 });
  let pair: YamlPair | undefined;
  for (const [index, step] of place.path.entries()) {
    const last = index === place.path.length - 1;
    if (typeof step === 'number' && node.kind !== 'map') {
      const item: YamlNode | undefined = node.items[step];
      if (item === undefined) return span(place, pair?.key ?? node);
      node = item;
      pair = undefined;
      continue;
    }
    const next = node.pair(String(step));
    // A key that is missing: point at what it is missing from.
    if (next === undefined) return span(place, pair?.key ?? firstKey(node));
    pair = next;
    if (last && place.part === 'key') return span(place, next.key);
    node = next.value;
  }
  if (node.isBlank && pair !== undefined) return span(place, pair.key);
  return span(place, node);
}

/** The diagnostics with every place found in its file. */
export function located(diagnostics: readonly Diagnostic[]): readonly LocatedDiagnostic[] {
  return diagnostics.map((one) => ({
    ...one,
    at: locate(one.at),
    related: one.related.map(({ at, label }) => ({ at: locate(at), label })),
  }));
}

function span(spot: Spot, node: YamlNode): Span {
  return within({ file: spot.file, start: node.start, end: endOf(node) });
}

/** What is missing at the end of a file is missed at its last character, not past it. */
function within({ file, start, end }: Span): Span {
  const length = file.text.length;
  const first = Math.max(0, Math.min(start, length));
  return { file, start: first, end: Math.max(first, Math.min(end, length)) };
}

function firstKey(node: YamlNode): YamlNode {
  return node.pairs[0]?.key ?? node;
}

/** A collection ends where its last part ends, wherever its bracket stands. */
function endOf(node: YamlNode): number {
  if (node.kind === 'scalar') return node.valueEnd;
  let end = node.start + 1;
  for (const item of node.items) end = Math.max(end, endOf(item));
  for (const { key, value } of node.pairs) end = Math.max(end, endOf(key), endOf(value));
  return end;
}
