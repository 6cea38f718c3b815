import fc from 'fast-check';
import {
  isCollection,
  isMap,
  isNode,
  isPair,
  type Node,
  parseDocument,
  visit,
  type YAMLMap,
  type YAMLSeq,
} from 'yaml';
import { type Change, inFile, share } from './changes.ts';

const HOW = ['drop', 'double', 'move', 'swap', 'into list', 'into map', 'out', 'flow'] as const;

/**
 * One entry of a map or a list, at whatever depth, is left out, doubled, moved to another map or
 * list, swapped with another one, wrapped up or taken out of its wrapping. What comes out is YAML
 * still, but for keys that stand twice, and is laid out anew.
 */
export const structure: fc.Arbitrary<Change> = fc
  .tuple(share, share, share, fc.tuple(share, share), fc.constantFrom(...HOW))
  .map(([file, at, to, [from, into], how]) =>
    inFile(file, (text, path) => {
      if (path.endsWith('.csv')) return withoutColumn(text, at);
      const document = parseDocument(text, { schema: 'core', logLevel: 'silent' });
      // An alias whose anchor is moved behind it could not be written.
      if (document.errors.length > 0 || hasAlias(document.contents)) return text;
      const places = collectionsOf(document.contents);
      const here = places[Math.floor(at * places.length)];
      const there = places[Math.floor(to * places.length)];
      if (here === undefined || there === undefined) return text;
      change(here, Math.floor(from * here.items.length), there, into, how);
      return document.toString({ lineWidth: 0 });
    }),
  );

type Collection = YAMLMap<unknown, unknown> | YAMLSeq<unknown>;

/** Maps and lists that have something in them. */
function collectionsOf(root: Node | null): readonly Collection[] {
  const found: Collection[] = [];
  visit(root, {
    Collection: (_, node) => {
      if (node.items.length > 0) found.push(node as Collection);
    },
  });
  return found;
}

function hasAlias(root: Node | null): boolean {
  let found = false;
  visit(root, {
    Alias: () => {
      found = true;
      return visit.BREAK;
    },
  });
  return found;
}

function change(
  here: Collection,
  at: number,
  there: Collection,
  into: number,
  how: (typeof HOW)[number],
): void {
  const items: unknown[] = here.items;
  const others: unknown[] = there.items;
  const item = items[at];
  const place = Math.floor(into * others.length);
  // Pairs stay in maps, for a list of pairs is a list of maps once it is written.
  const fits = isMap(here) === isMap(there) && !holds(item, there);
  const held = isPair(item) ? item.value : item;
  if (how === 'drop') items.splice(at, 1);
  else if (how === 'double') items.splice(at, 0, item);
  else if (how === 'move' && fits) others.splice(place, 0, ...items.splice(at, 1));
  else if (how === 'swap' && fits && !holds(others[place], here)) {
    [items[at], others[place]] = [others[place], item];
  } else if (how === 'into list') put(items, at, [held]);
  else if (how === 'into map') put(items, at, { tree: held });
  else if (how === 'out' && isCollection(held)) {
    const first: unknown = held.items[0];
    put(items, at, isPair(first) ? first.value : first);
  } else if (how === 'flow') here.flow = true;
}

/** Puts a value in the place of an item, or behind the key of a pair. */
function put(items: unknown[], at: number, value: unknown): void {
  const item = items[at];
  if (isPair(item)) item.value = value;
  else items[at] = value;
}

/** Whether a node stands inside an item, or is it. */
function holds(item: unknown, node: Collection): boolean {
  if (!isNode(item) && !isPair(item)) return false;
  let found = false;
  visit(item as Node, (_, one) => {
    if (one === node) found = true;
    return found ? visit.BREAK : undefined;
  });
  return found;
}

/** A table loses one of its columns. */
function withoutColumn(text: string, at: number): string {
  const rows = text.split('\n').map((row) => row.split(','));
  const column = Math.floor(at * (rows[0]?.length ?? 0));
  return rows.map((row) => row.filter((_, index) => index !== column).join(',')).join('\n');
}
