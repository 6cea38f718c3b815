import {
  CST,
  isCollection,
  isMap,
  isPair,
  isScalar,
  isSeq,
  Lexer,
  type Pair,
  parseDocument,
  type Scalar,
  type YAMLMap,
  type YAMLSeq,
} from 'yaml';
import { asWritten } from './new-entry.ts';

// Where things stand in a YAML text. Only offsets are taken from here; values come from the reader
// of the ledger.

export type { YAMLMap, YAMLSeq };

/** The root of a text that the ledger's reader has already found sound. */
export function rootNode(text: string): unknown {
  return parseDocument(text, {
    version: '1.2',
    schema: 'core',
    stringKeys: true,
    merge: false,
    resolveKnownTags: false,
    // The reader has refused repeated keys; looking again takes time in step with their square.
    uniqueKeys: false,
    prettyErrors: false,
    logLevel: 'silent',
  }).contents;
}

export interface PairNode {
  readonly key: string;
  readonly keyNode: unknown;
  readonly value: unknown;
}

export function asMap(node: unknown): YAMLMap | undefined {
  return isMap(node) ? node : undefined;
}

export function asSeq(node: unknown): YAMLSeq | undefined {
  return isSeq(node) ? node : undefined;
}

export function pairsOf(map: YAMLMap): readonly PairNode[] {
  return map.items.map((pair: Pair) => ({
    key: isScalar(pair.key) ? String(pair.key.value) : '',
    keyNode: pair.key,
    value: pair.value,
  }));
}

export function isFlow(node: unknown): boolean {
  return isCollection(node) && node.flow === true;
}

export function isBlockScalar(node: unknown): boolean {
  return isScalar(node) && (node.type === 'BLOCK_LITERAL' || node.type === 'BLOCK_FOLDED');
}

/** Where the text of a node begins; for a block list, its first dash. */
export function startOf(node: unknown): number {
  if (isPair(node)) return startOf(node.key);
  return rangeOf(node)[0];
}

/** Where the text of a node ends: past its last value, before any comment that follows. */
export function endOf(node: unknown): number {
  if (isPair(node)) return Math.max(endOf(node.key), endOf(node.value));
  if (!isCollection(node) || node.flow === true || node.items.length === 0) return rangeOf(node)[1];
  return endOf(node.items.at(-1));
}

function rangeOf(node: unknown): readonly [number, number] {
  if (isScalar(node) || isCollection(node)) {
    const range = node.range;
    if (range) return [range[0], range[1]];
  }
  return [0, 0];
}

export interface Comment {
  readonly start: number;
  readonly end: number;
  /** With its `#`, without spaces at the end. */
  readonly text: string;
}

/** Every comment of a text, in order. */
export function commentsOf(text: string): readonly Comment[] {
  const found: Comment[] = [];
  let start = 0;
  let scalarNext = false;
  for (const lexeme of new Lexer().lex(text)) {
    // Marks that the lexer puts in have no width in the text.
    if (lexeme === CST.DOCUMENT || lexeme === CST.FLOW_END) continue;
    if (lexeme === CST.SCALAR) {
      scalarNext = true;
      continue;
    }
    if (!scalarNext && CST.tokenType(lexeme) === 'comment') {
      const shown = lexeme.trimEnd();
      found.push({ start, end: start + shown.length, text: shown });
    }
    scalarNext = false;
    start += lexeme.length;
  }
  return found;
}

/** Whether a node has text of several lines in it that a block scalar holds. */
export function hasBlockScalar(node: unknown): boolean {
  if (isPair(node)) return hasBlockScalar(node.key) || hasBlockScalar(node.value);
  if (isCollection(node)) return node.items.some(hasBlockScalar);
  return isBlockScalar(node);
}

/** Every scalar under a node, keys as well. */
export function scalarsOf(node: unknown): readonly { node: Scalar; isKey: boolean }[] {
  if (isPair(node)) {
    const key = isScalar(node.key) ? [{ node: node.key, isKey: true }] : [];
    return [...key, ...scalarsOf(node.value)];
  }
  if (isCollection(node)) return node.items.flatMap(scalarsOf);
  return isScalar(node) ? [{ node, isKey: false }] : [];
}

/** The outermost collections in brackets under a node. */
export function bracketsOf(node: unknown): readonly (YAMLMap | YAMLSeq)[] {
  if (isPair(node)) return bracketsOf(node.value);
  if (!isMap(node) && !isSeq(node)) return [];
  return node.flow === true ? [node] : node.items.flatMap(bracketsOf);
}

/** A node as plain values, numbers as their author wrote them. */
export function plainValue(node: unknown): unknown {
  if (isMap(node)) {
    return inOwnOrder(pairsOf(node).map(({ key, value }) => [key, plainValue(value)]));
  }
  if (isSeq(node)) return node.items.map(plainValue);
  if (!isScalar(node)) return null;
  const { value, source } = node;
  if (typeof value === 'string') return value;
  return source === undefined || source === '' ? null : asWritten(source);
}

/** An object whose keys keep the order of the file; JavaScript itself puts keys like 417 first. */
function inOwnOrder(pairs: readonly (readonly [string, unknown])[]): object {
  const made = Object.fromEntries(pairs);
  if (!pairs.some(([key]) => /^\d+$/.test(key))) return made;
  const keys = [...new Set(pairs.map(([key]) => key))];
  return new Proxy(made, { ownKeys: () => keys });
}
