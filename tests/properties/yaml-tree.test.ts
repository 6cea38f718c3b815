import fc from 'fast-check';
import { expect, test } from 'vitest';
import { isMap, isScalar, isSeq, parseDocument, type Scalar } from 'yaml';
import type { YamlNode } from '../../src/reading/yaml-node.ts';
import { AS_FAST_READER } from '../../src/reading/yaml-problems.ts';
import { readYaml } from '../../src/reading/yaml-read.ts';
import { yamlRoot } from '../../src/reading/yaml-tree.ts';
import { RUNS } from '../support/property-runs.ts';
import { seasonText, seasonTextArb } from './season-text.ts';

/** The places of all parts as the tree of a file has them. */
function placesIn(node: YamlNode): unknown {
  if (node.isBlank) return 'blank';
  const { start, isFlow } = node;
  const end = endsAtDash(node) ? 'dash' : node.end;
  if (node.kind === 'list') return { start, end, isFlow, items: node.items.map(placesIn) };
  if (node.kind === 'scalar') return { start: node.isBlockText ? 'block' : start, end };
  const pairs = node.pairs.map(({ key, value }) => [key.text, placesIn(key), placesIn(value)]);
  return { start, end, isFlow, pairs };
}

/** The other reader takes the blank after a last dash without an item now in, now out. */
function endsAtDash(node: YamlNode): boolean {
  const last = node.items.at(-1);
  if (last?.isBlank) return true;
  const inner = last ?? node.pairs.at(-1)?.value;
  return inner !== undefined && endsAtDash(inner);
}

/** The same as another reader, the package yaml, has them. */
function placesOf(node: unknown): unknown {
  if (isScalar(node)) {
    if (isBlank(node)) return 'blank';
    const isBlock = node.type === 'BLOCK_LITERAL' || node.type === 'BLOCK_FOLDED';
    return { start: isBlock ? 'block' : node.range?.[0], end: node.range?.[1] };
  }
  if (!isMap(node) && !isSeq(node)) return 'blank';
  const isFlow = node.flow === true;
  const [start, end] = [node.range?.[0], endOf(node) ?? 'dash'];
  if (isSeq(node)) return { start, end, isFlow, items: node.items.map(placesOf) };
  const pairs = node.items.map(({ key, value }) => [
    isScalar(key) ? String(key.value) : '',
    placesOf(key),
    placesOf(value),
  ]);
  return { start, end, isFlow, pairs };
}

/** The end of its last part, since a block goes on to the next line with text here; undefined after a dash. */
function endOf(node: unknown): number | undefined {
  if (isScalar(node)) return isBlank(node) ? undefined : node.range?.[1];
  if (!isMap(node) && !isSeq(node)) return undefined;
  if (node.flow === true) return node.range?.[1];
  if (isSeq(node)) return endOf(node.items.at(-1));
  const { key, value } = node.items.at(-1) ?? {};
  return isScalar(value) && isBlank(value) ? endOf(key) : endOf(value);
}

function isBlank({ source, type }: Scalar): boolean {
  return source === '' && type === 'PLAIN';
}

function agree(text: string): boolean {
  const file = { path: 'seasons/2026.yaml', text, bom: false };
  if (readYaml(file).diagnostics.length > 0) return false;
  const root = yamlRoot(file);
  const other = parseDocument(text, AS_FAST_READER).contents;
  expect(root === undefined ? 'blank' : placesIn(root)).toEqual(placesOf(other));
  return true;
}

const plain = fc.constantFrom('7', 'wet week', '52.40', '2026-07-24', 'a:b', 'x#y', 'é');
const scalar = fc.oneof(
  plain,
  plain.map((text) => `'${text}'`),
  plain.map((text) => `"${text} # \\" ]"`),
);
const gap = fc.constantFrom('', '', ' # a ] } comment', '\n  # below', '\n');

const flow: fc.Arbitrary<string> = fc.letrec<{ value: string }>((tie) => ({
  value: fc.oneof(
    { maxDepth: 3 },
    scalar,
    fc
      .array(fc.tuple(tie('value'), gap), { maxLength: 3 })
      .map((items) => `[ ${items.map(([one, after]) => `${one}${after}\n  `).join(', ')}]`),
    fc
      .array(fc.tuple(tie('value'), gap), { maxLength: 3 })
      .map(
        (items) => `{${items.map(([one, after], at) => `k${at}: ${one}${after}\n  `).join(', ')}}`,
      ),
    fc.constantFrom('{ a: , b: }', '[a: 1, b]', '{ a, b: 2 }', '[]', '{}', '[ ]'),
  ),
})).value;

const lines = (indent: number, texts: readonly string[]) =>
  texts.map((text) => (text === '' ? '' : ' '.repeat(indent) + text)).join('\n');

/** What may stand behind a key or a dash, at an indent of its own. */
function block(indent: number, depth: number): fc.Arbitrary<string> {
  const inner = depth > 2 ? fc.constant('') : fc.constant(null);
  const text = fc
    .tuple(
      fc.constantFrom('|', '|-', '|+', '>', '>-', '>+'),
      fc.array(fc.constantFrom('wet', '# no comment', '', '  deeper'), { maxLength: 3 }),
      fc.constantFrom('', '\n', '\n\n'),
    )
    .map(([mark, rest, blank]) => ` ${mark}\n${lines(indent, ['first', ...rest])}${blank}`);
  const leaves = [
    fc.constant(''),
    fc.constant(' # nothing'),
    fc.tuple(scalar, fc.constantFrom('', '  # dry', '  ')).map(([one, after]) => ` ${one}${after}`),
    flow.map((one) => ` ${one.replaceAll('\n', `\n${' '.repeat(indent)}`)}`),
    text,
  ];
  return inner.chain((stop) =>
    fc.oneof(
      ...leaves,
      ...(stop === ''
        ? []
        : [
            fc
              .array(block(indent + 2, depth + 1), { minLength: 1, maxLength: 3 })
              .map((items) => `\n${items.map((one) => `${' '.repeat(indent)}-${one}`).join('\n')}`),
            fc
              .array(block(indent + 2, depth + 1), { minLength: 1, maxLength: 3 })
              .map(
                (values) =>
                  `\n${values.map((one, at) => `${' '.repeat(indent)}k${at}:${one}`).join('\n')}`,
              ),
          ]),
    ),
  );
}

test('the parts of a season file stand where another reader finds them', () => {
  let seen = 0;
  fc.assert(
    fc.property(seasonTextArb, (style) => {
      if (agree(seasonText(style))) seen++;
    }),
    { numRuns: RUNS },
  );
  expect(seen).toBeGreaterThan(RUNS / 2);
});

test('the parts of any other file do, too', () => {
  let seen = 0;
  fc.assert(
    fc.property(
      fc.array(block(2, 0), { minLength: 1, maxLength: 4 }),
      fc.constantFrom('\n', '\r\n'),
      fc.constantFrom('', '\n', '\n# the end\n'),
      (values, eol, last) => {
        const text = values.map((one, at) => `key${at}:${one}`).join('\n') + last;
        if (agree(text.replaceAll('\n', eol))) seen++;
      },
    ),
    { numRuns: RUNS },
  );
  expect(seen).toBeGreaterThan(RUNS / 2);
});
