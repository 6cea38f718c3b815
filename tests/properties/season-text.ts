import fc from 'fast-check';

// Season files as people write them: block and bracket lists, comments and blank lines anywhere,
// any line end, with and without a byte order mark or a last line end.

interface ItemStyle {
  readonly day: number;
  readonly style: 'flow' | 'block' | 'text' | 'nested';
  readonly above: readonly string[];
  readonly trailing: string;
  readonly below: readonly string[];
}

interface SectionStyle {
  readonly name: string;
  readonly form:
    | 'list'
    | 'list'
    | 'empty'
    | 'brackets'
    | 'tilde'
    | 'one-line'
    | 'many-lines'
    | 'none';
  readonly items: readonly ItemStyle[];
  readonly indent: 0 | 2 | 4;
  readonly gap: readonly string[];
  readonly trailing: string;
}

export interface Style {
  readonly top: readonly string[];
  readonly sections: readonly SectionStyle[];
  readonly bottom: readonly string[];
  readonly eol: '\n' | '\r\n';
  readonly lastEol: boolean;
  readonly bom: boolean;
  readonly sorted: boolean;
}

const comment = fc.constantFrom(
  '# weighed by Mara',
  '# picks: []',
  '#',
  "# it's wet: 3 °C",
  '# - { on: 1 }',
);
const loose = fc.array(fc.oneof(comment, fc.constant('')), { maxLength: 3 });
const trailing = fc.oneof(
  { weight: 3, arbitrary: fc.constant('') },
  { weight: 1, arbitrary: fc.constantFrom('  # dry', ' # a: b', '   ') },
);

const item: fc.Arbitrary<ItemStyle> = fc.record({
  day: fc.integer({ min: 1, max: 28 }),
  style: fc.constantFrom('flow', 'flow', 'block', 'text', 'nested'),
  above: loose,
  trailing,
  below: fc.oneof(
    { weight: 4, arbitrary: fc.constant([]) },
    { weight: 1, arbitrary: fc.tuple(comment) },
  ),
});

const section = (name: string): fc.Arbitrary<SectionStyle> =>
  fc.record({
    name: fc.constant(name),
    form: fc.constantFrom(
      'list',
      'list',
      'empty',
      'brackets',
      'tilde',
      'one-line',
      'many-lines',
      'none',
    ),
    items: fc.array(item, { minLength: 1, maxLength: 4 }),
    indent: fc.constantFrom(0, 2, 4),
    gap: loose,
    trailing,
  });

export const seasonTextArb: fc.Arbitrary<Style> = fc.record({
  top: loose,
  sections: fc.tuple(section('counts'), section('picks'), section('drops'), section('events')),
  bottom: loose,
  eol: fc.constantFrom('\n', '\n', '\r\n'),
  lastEol: fc.boolean(),
  bom: fc.boolean(),
  sorted: fc.boolean(),
});

export function seasonText(style: Style): string {
  const lines = [...style.top, 'season: 2026'];
  for (const section of style.sections) lines.push(...sectionText(section, style.sorted));
  lines.push(...style.bottom);
  const text = lines.join(style.eol);
  return style.lastEol ? text + style.eol : text;
}

function sectionText(section: SectionStyle, sorted: boolean): readonly string[] {
  const { name, form, indent, gap, trailing } = section;
  const items = sorted ? section.items.toSorted((a, b) => a.day - b.day) : section.items;
  switch (form) {
    case 'none':
      return [];
    case 'empty':
      return [...gap, `${name}:${trailing}`];
    case 'brackets':
      return [...gap, `${name}: []${trailing}`];
    case 'tilde':
      return [...gap, `${name}: ~${trailing}`];
    case 'one-line':
      return [...gap, `${name}: [${items.map((one) => flow(name, one)).join(', ')}]${trailing}`];
    case 'many-lines':
      return [
        ...gap,
        `${name}: [`,
        ...items.map((one) => `    ${flow(name, one)},${one.trailing}`),
        `  ]${trailing}`,
      ];
    default:
      return [
        ...gap,
        `${name}:${trailing}`,
        ...items.flatMap((one) => itemText(name, one, indent)),
      ];
  }
}

function itemText(name: string, one: ItemStyle, indent: number): readonly string[] {
  const pad = ' '.repeat(indent);
  const above = one.above.map((line) => (line === '' ? '' : pad + line));
  const below = one.below.map((line) => `${pad}  ${line}`);
  return [...above, ...body(name, one).map((line) => pad + line), ...below];
}

function body(name: string, one: ItemStyle): readonly string[] {
  const pairs = fields(name, one);
  switch (one.style) {
    case 'flow':
      return [`- ${flow(name, one)}${one.trailing}`];
    case 'block':
      return pairs.map((pair, at) => `${at === 0 ? '- ' : '  '}${pair}${one.trailing}`);
    case 'text':
      return [
        ...pairs.map((pair, at) => `${at === 0 ? '-   ' : '    '}${pair}`),
        '    note: |-',
        '      wet',
        '',
        '      # not a comment',
      ];
    case 'nested':
      return ['-', ...pairs.map((pair) => `    ${pair}`)];
  }
}

function flow(name: string, one: ItemStyle): string {
  return `{ ${fields(name, one).join(', ')} }`;
}

function fields(name: string, one: ItemStyle): readonly string[] {
  const on = `on: 2026-07-${String(one.day).padStart(2, '0')}`;
  if (name === 'events') return [on, 'kind: "feed"', "product: 'fish # meal'"];
  if (name === 'picks') return [on, 'tree: G3', 'crop: early', 'weights: [52.40, 47.0]'];
  return [on, 'tree: G3', 'crop: early', 'fruit: 7'];
}
