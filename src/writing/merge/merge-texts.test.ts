import { expect, test } from 'vitest';
import { mergeTexts } from './merge-texts.ts';

const SEASON = `# Season of 2026

season: 2026

# What hangs
counts:
  - { on: 2026-07-02, tree: G3, crop: early, fruit: 21, branches: 8 }

picks:
  # the first ones
  - { on: 2026-07-24, tree: G3, crop: early, weights: [52.40, 47.0], split: 1 }
  - { on: 2026-07-29, tree: G3, crop: early, fruit: 11, weight: 580 }  # wet

tastings:
  - on: 2026-07-24
    samples:
      - { tree: G3, crop: early, ripeness: ripe }
      - { tree: Y1, crop: early }
    scores:
      mara: { G3: { sweetness: 8, flavour: 9 } }
    order:
      mara: [G3, Y1]
`;

function change(text: string, ...changes: readonly (readonly [string, string])[]): string {
  return changes.reduce((made, [from, to]) => {
    if (!made.includes(from)) throw new Error(`not there: ${from}`);
    return made.replace(from, () => to);
  }, text);
}

/** Joined either way round, which must give the same. */
function merge(base: string, ours: string, theirs: string) {
  const one = mergeTexts('seasons/2026.yaml', { base, ours, theirs });
  const other = mergeTexts('seasons/2026.yaml', { base, ours: theirs, theirs: ours });
  if (one.conflicts.length === 0) expect(other).toEqual(one);
  return one;
}

test('entries that both added stand in date order, with the comments of both', () => {
  const ours = change(SEASON, [
    'weight: 580 }  # wet\n',
    'weight: 580 }  # wet\n  - { on: 2026-08-01, tree: G3, crop: early, fruit: 2 }\n',
  ]);
  const theirs = change(SEASON, [
    'weight: 580 }  # wet\n',
    'weight: 580 }  # wet\n  # from the ladder\n  - { on: 2026-07-31, tree: "Y1", crop: early, weights: [40.50] } # dry\n',
  ]);
  expect(merge(SEASON, ours, theirs)).toEqual({
    text: change(SEASON, [
      'weight: 580 }  # wet\n',
      `weight: 580 }  # wet
  # from the ladder
  - { on: 2026-07-31, tree: "Y1", crop: early, weights: [40.50] } # dry
  - { on: 2026-08-01, tree: G3, crop: early, fruit: 2 }
`,
    ]),
    conflicts: [],
    why: undefined,
    notes: [],
  });
});

test('fields of one entry changed on either side go together', () => {
  const ours = change(SEASON, ['split: 1 }', 'split: 2 }  # looked again']);
  const theirs = change(SEASON, ['split: 1 }', 'split: 1, note: from the top }']);
  const { text, conflicts } = merge(SEASON, ours, theirs);
  expect(conflicts).toEqual([]);
  expect(text).toBe(
    change(SEASON, ['split: 1 }', 'split: 2, note: from the top }  # looked again']),
  );
});

test('one mark with two values is asked about, and nothing else', () => {
  const ours = change(SEASON, ['fruit: 11,', 'fruit: 12,'], ['# What hangs', '# What hangs there']);
  const theirs = change(SEASON, ['fruit: 11,', 'fruit: 13,'], ['branches: 8', 'branches: 9']);
  const { text, conflicts } = merge(SEASON, ours, theirs);
  expect(text).toBe(
    change(
      SEASON,
      [
        '  - { on: 2026-07-29, tree: G3, crop: early, fruit: 11, weight: 580 }  # wet\n',
        `<<<<<<< ours
  - { on: 2026-07-29, tree: G3, crop: early, fruit: 12, weight: 580 }  # wet
=======
  - { on: 2026-07-29, tree: G3, crop: early, fruit: 13, weight: 580 }  # wet
>>>>>>> theirs
`,
      ],
      ['# What hangs', '# What hangs there'],
      ['branches: 8', 'branches: 9'],
    ),
  );
  expect(conflicts).toEqual([12]);
});

test('changed here and removed there is asked about', () => {
  const line = '  - { on: 2026-07-02, tree: G3, crop: early, fruit: 21, branches: 8 }\n';
  const ours = change(SEASON, [line, '']);
  const theirs = change(SEASON, ['fruit: 21', 'fruit: 22']);
  const { text } = merge(SEASON, ours, theirs);
  expect(text).toContain(
    `counts:\n<<<<<<< ours\n=======\n${line.replace('21', '22')}>>>>>>> theirs\n\npicks:`,
  );
  expect(merge(SEASON, ours, change(SEASON, ['weight: 580', 'weight: 581'])).text).toBe(
    change(ours, ['weight: 580', 'weight: 581']),
  );
});

test('a sitting is joined by taster and plate', () => {
  const ours = change(
    SEASON,
    ['mara: [G3, Y1]\n', 'mara: [G3, Y1]\n      joss: [Y1, G3]\n'],
    [
      'mara: { G3: { sweetness: 8, flavour: 9 } }',
      'mara: { G3: { sweetness: 8, flavour: 9 } }\n      joss: { G3: { sweetness: 5 } }',
    ],
  );
  const theirs = change(SEASON, [
    'mara: { G3: { sweetness: 8, flavour: 9 } }',
    'mara: { G3: { sweetness: 8, flavour: 9 }, Y1: { sweetness: 7 } }\n      joss: { Y1: { sweetness: 6 } }\n    note: windy',
  ]);
  const { text, conflicts } = merge(SEASON, ours, theirs);
  expect(conflicts).toEqual([]);
  expect(text.slice(text.indexOf('    scores:'))).toBe(`    scores:
      mara: { G3: { sweetness: 8, flavour: 9 }, Y1: { sweetness: 7 } }
      joss: { G3: { sweetness: 5 }, Y1: { sweetness: 6 } }
    note: windy
    order:
      mara: [G3, Y1]
      joss: [Y1, G3]
`);
});

test('two sittings begun on one day are one, unless a label stands for two plates', () => {
  const base = 'season: 2026\ntastings:\n';
  const sitting = (taster: string, plate: string, label = '') =>
    `${base}  - on: 2026-07-24\n    samples:\n      - { tree: ${plate}, crop: early${label} }\n    scores:\n      ${taster}:\n        ${label === '' ? plate : '"417"'}: { flavour: 7 }\n`;
  const joined = merge(base, sitting('mara', 'G3'), sitting('joss', 'Y1'));
  expect(joined.notes).toEqual([]);
  expect(joined.text).toBe(`${base}  - on: 2026-07-24
    samples:
      - { tree: G3, crop: early }
      - { tree: Y1, crop: early }
    scores:
      joss:
        Y1: { flavour: 7 }
      mara:
        G3: { flavour: 7 }
`);
  const apart = merge(
    base,
    sitting('mara', 'G3', ', as: "417"'),
    sitting('joss', 'Y1', ', as: "417"'),
  );
  expect(apart.conflicts).toEqual([]);
  expect(apart.text.match(/- on:/g)).toHaveLength(2);
  expect(apart.notes.join()).toContain('they stand apart');
});

test('an equal pick of both sides is one if it was weighed, and may be two if it was only counted', () => {
  const base = 'season: 2026\npicks:\n';
  const weighed = '  - { on: 2026-07-24, tree: G3, crop: early, weights: [52.4, 47] }\n';
  const counted = '  - { on: 2026-07-24, tree: G3, crop: early, fruit: 3 }\n';
  const other = 'counts:\n  - { on: 2026-07-24, tree: G3, crop: early, fruit: 3 }\n';
  const once = merge(base, base + weighed, `${base}${weighed}${other}`);
  expect(once.text.split(weighed)).toHaveLength(2);
  expect(once.notes).toHaveLength(1);
  const twice = merge(base, base + counted, `${base}${counted}${other}`);
  expect(twice.text).toBe(`${base}${counted}${counted}${other}`);
  expect(twice.notes.join()).toContain('if it was one, delete one');
  // A count says what hangs, however often it is said.
  const counts = merge(other, `${other}picks:\n${weighed}`, `${other}drops:\n`);
  expect(counts.text).toBe(`${other}picks:\n${weighed}drops:\n`);
});

test('the other files go together by key', () => {
  const trees =
    'G3:\n  cultivar: amber-lantern\n  site: glass # by the door\n\nY1: { cultivar: slate-quay, site: yard }\n';
  const ours = change(
    trees,
    ['site: glass #', 'planted: 2019\n  site: glass #'],
    [
      'site: yard }\n',
      'site: yard, planted: 2021 }\n\n# bought in May\nZ2:\n  cultivar: slate-quay\n  site: yard\n',
    ],
  );
  const theirs = change(
    trees,
    ['site: yard }\n', 'site: yard, note: leans }\n\nP1: { cultivar: slate-quay }\n'],
    [
      '  cultivar: amber-lantern\n',
      '  cultivar: amber-lantern\n  # says the label\n  received_as: Lantern\n',
    ],
  );
  const merged = mergeTexts('trees.yaml', { base: trees, ours, theirs });
  expect(merged).toEqual({
    text: `G3:
  cultivar: amber-lantern
  # says the label
  received_as: Lantern
  planted: 2019
  site: glass # by the door

Y1: { cultivar: slate-quay, site: yard, planted: 2021, note: leans }

P1: { cultivar: slate-quay }

# bought in May
Z2:
  cultivar: slate-quay
  site: yard
`,
    conflicts: [],
    why: undefined,
    notes: [],
  });
  expect(mergeTexts('trees.yaml', { base: trees, ours: theirs, theirs: ours })).toEqual(merged);
});

test('settings go together value by value, names as sets, and lists such as traits as one', () => {
  const base =
    'traits: [sweetness, flavour]\ntasters: { mara: Mara }\nrank:\n  weights: { flavour: 3, size: 1 } # mine\nwords: [melon]\n';
  const ours = change(
    base,
    ['mara: Mara }', 'mara: Mara, joss: Joss }'],
    ['size: 1', 'size: 2'],
    ['[melon]', '[melon, berry]'],
  );
  const theirs = change(
    base,
    ['mara: Mara }', 'mara: Mara M, odo: Odo }'],
    ['flavour: 3', 'flavour: 4'],
    ['[melon]', '[melon, anise]'],
  );
  expect(merge(base, ours, theirs).text).toBe(
    'traits: [sweetness, flavour]\ntasters: { mara: Mara M, joss: Joss, odo: Odo }\nrank:\n  weights: { flavour: 4, size: 2 } # mine\nwords: [melon, anise, berry]\n',
  );
  const mine = change(base, ['flavour]', 'flavour, texture]']);
  const other = change(base, ['flavour]', 'flavour, skin]']);
  const asked = merge(base, mine, other);
  expect(asked.text).toBe(
    change(base, [
      'traits: [sweetness, flavour]\n',
      '<<<<<<< ours\ntraits: [sweetness, flavour, texture]\n=======\ntraits: [sweetness, flavour, skin]\n>>>>>>> theirs\n',
    ]),
  );
});

test('a file that both began goes together without a base', () => {
  const begun = (line: string) => `# What was seen in 2027.\nseason: 2027\n\npicks:\n${line}`;
  const ours = begun('  - { on: 2027-07-24, tree: G3, crop: early, fruit: 3 }\n');
  const theirs = begun('  - { on: 2027-07-23, tree: Y1, crop: early, fruit: 2 }\n');
  expect(merge('', ours, theirs).text).toBe(
    begun(
      '  - { on: 2027-07-23, tree: Y1, crop: early, fruit: 2 }\n  - { on: 2027-07-24, tree: G3, crop: early, fruit: 3 }\n',
    ),
  );
  expect(merge('', ours, begun('').replace('2027\n', '2028\n')).conflicts).toHaveLength(1);
});

test('line ends, byte order mark and last line stay as they were, or as one side made them', () => {
  const base = 'season: 2026\npicks:\n  - { on: 2026-07-24, tree: G3, crop: early, fruit: 3 }';
  const ours = base.replace('fruit: 3', 'fruit: 4');
  const theirs = base.replace('crop: early', 'crop: main');
  const windows = (text: string) => text.replaceAll('\n', '\r\n');
  const wanted = base.replace('fruit: 3', 'fruit: 4').replace('season: 2026', 'season: 2026 # wet');
  const wet = base.replace('season: 2026', 'season: 2026 # wet');
  expect(merge(base, ours, wet).text).toBe(wanted);
  expect(merge(windows(base), windows(ours), windows(wet)).text).toBe(windows(wanted));
  expect(merge(base, windows(ours), wet).text).toBe(windows(wanted));
  expect(merge(base, `\ufeff${ours}`, `${wet}\n`).text).toBe(`\ufeff${wanted}\n`);
  const asked = merge(windows(base), windows(ours), windows(theirs));
  expect(asked.conflicts).toEqual([3]);
  expect(asked.text).not.toMatch(/[^\r]\n/);
});

test('a version emptied or taken away on one side is asked about only where the other changed it', () => {
  const two = change(SEASON, ['season: 2026', 'season: 2026 # wet']);
  expect(merge(SEASON, '', SEASON).text).toBe('');
  const { text, conflicts } = merge(SEASON, '', change(SEASON, ['fruit: 11', 'fruit: 12']));
  expect(conflicts.length).toBeGreaterThan(0);
  expect(text).toContain('fruit: 12');
  expect(merge(SEASON, SEASON, two).text).toBe(two);
});

test('what cannot be read is one conflict, and nothing of it is lost', () => {
  const broken = change(SEASON, ['fruit: 11,', 'fruit: [11,']);
  const theirs = change(SEASON, ['branches: 8', 'branches: 9']);
  const { text, conflicts, why } = merge(SEASON, broken, theirs);
  expect(why).toContain('the version of this branch cannot be read');
  expect(conflicts).toEqual([7]);
  const [, ours = '', other = ''] =
    /^<<<<<<< ours\n([\s\S]*)^=======\n([\s\S]*)^>>>>>>> theirs\n/m.exec(text) ?? [];
  const outside = (part: string) => text.replace(/^<<<<<<< [\s\S]*^>>>>>>> theirs\n/m, () => part);
  expect(outside(ours)).toBe(broken);
  expect(outside(other)).toBe(theirs);
});

test('a season that one side put in order keeps that order, with what the other side added', () => {
  const [first, second] = [
    '  - { on: 2026-07-29, tree: G3, crop: early, fruit: 1 }\n',
    '  - { on: 2026-07-24, tree: G3, crop: early, fruit: 2 }\n',
  ];
  const base = `season: 2026\npicks:\n${first}${second}`;
  const added = '  - { on: 2026-08-01, tree: G3, crop: early, fruit: 3 }\n';
  expect(merge(base, `season: 2026\npicks:\n${second}${first}`, base + added).text).toBe(
    `season: 2026\npicks:\n${second}${first}${added}`,
  );
});

test('a sitting in lines and the same in brackets go together', () => {
  const base = 'season: 2026\ntastings:\n';
  const lines = `${base}  - on: 2026-07-24\n    samples:\n      # the big one\n      - { tree: G3, crop: early }\n    scores:\n      mara: { G3: { flavour: 7 } }\n`;
  const brackets = `${base}  - { on: 2026-07-24, samples: [{ tree: Y1, crop: early }], scores: { joss: { Y1: { flavour: 6 } } } } # late\n`;
  expect(merge(base, lines, brackets).text).toBe(`${base}  - # late
    on: 2026-07-24
    samples:
      # the big one
      - { tree: G3, crop: early }
      - { tree: Y1, crop: early }
    scores:
      joss: { Y1: { flavour: 6 } }
      mara: { G3: { flavour: 7 } }
`);
});

test('words of a taster go together as a set', () => {
  const base = change(SEASON, [
    '    order:',
    '    words:\n      mara: { G3: [melon] }\n    order:',
  ]);
  const ours = change(base, ['[melon]', '[melon, fresh]']);
  const theirs = change(base, [
    '[melon] }',
    '[melon, berry], Y1: [hay] }\n      joss: { G3: [melon] }',
  ]);
  expect(merge(base, ours, theirs).text).toBe(
    change(base, [
      'mara: { G3: [melon] }',
      'mara: { G3: [melon, berry, fresh], Y1: [hay] }\n      joss: { G3: [melon] }',
    ]),
  );
});

test('an entry whose day or tree was put right is still that entry', () => {
  const pick = (on: string, tree: string, fruit: number) =>
    `  - { on: 2026-07-${on}, tree: ${tree}, crop: early, fruit: ${fruit} }\n`;
  const file = (...picks: readonly string[]) => `season: 2026\npicks:\n${picks.join('')}`;
  const base = file(pick('24', 'G3', 3), pick('26', 'Y1', 2));
  const other = pick('26', 'Y1', 2);
  // Both put the same right, and one of them more.
  const twice = merge(
    base,
    file(pick('25', 'G3', 3), other),
    `${file(pick('25', 'G3', 3), other)}drops:\n`,
  );
  expect(twice.text).toBe(`${file(pick('25', 'G3', 3), other)}drops:\n`);
  expect(twice.notes).toEqual([]);
  // Each another day; one the day and one the number; one the tree, where the other took it away.
  for (const [ours, theirs] of [
    [file(pick('25', 'G3', 3), other), file(pick('23', 'G3', 3), other)],
    [file(pick('25', 'G3', 3), other), file(pick('24', 'G3', 4), other)],
    [file(pick('24', 'P2', 3), other), file(other)],
  ] as const) {
    const asked = merge(base, ours, theirs);
    expect(asked.conflicts).toHaveLength(1);
    expect(asked.text).toContain(other);
  }
  // One side alone: it moves with its day.
  const moved = file(other, pick('28', 'G3', 3));
  expect(merge(base, moved, base.replace('fruit: 2', 'fruit: 1')).text).toBe(
    moved.replace('fruit: 2', 'fruit: 1'),
  );
});

test('blanks behind one entry of a list in brackets are not put behind the others', () => {
  const pick = (day: number) => `    { on: 2026-07-${day}, tree: G3, crop: early, fruit: 3 },`;
  const file = (...lines: readonly string[]) =>
    `season: 2026\npicks: [\n${lines.map((line) => `${line}\n`).join('')}  ]\n`;
  const first = `${pick(10)}   `;
  const [ours, theirs] = [12, 13].map((day) => file(first, pick(11), pick(day)));
  const joined = merge(file(first, pick(11)), ours ?? '', theirs ?? '');
  expect(joined.text).toBe(file(first, pick(11), pick(12), pick(13)));
});
