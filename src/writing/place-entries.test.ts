import { expect, test } from 'vitest';
import type { NewEntry } from './new-entry.ts';
import { placeEntries } from './place-entries.ts';

const pick = (on: string, fruit = 1): NewEntry => ({
  section: 'picks',
  entry: { on, tree: 'G3', crop: 'early', fruit },
});
const file = (text: string) => ({ path: 'seasons/2026.yaml', text, bom: false });

function after(text: string, ...entries: readonly NewEntry[]): string {
  const result = placeEntries(file(text), entries, { early: 'breba', main: 'main' });
  if (result.kind === 'refused') return result.diagnostics.map((one) => one.rule).join();
  return result.file.text;
}

test('a comment right above an entry stays with it', () => {
  const text = `season: 2026
picks:
  # the first of the year
  - { on: 2026-07-20, tree: G3, crop: early, fruit: 3 } # in the rain
  # after the heat
  - { on: 2026-07-24, tree: G3, crop: early, fruit: 4 }
drops:
`;
  expect(after(text, pick('2026-07-22'), pick('2026-07-01'), pick('2026-07-24'))).toBe(`season: 2026
picks:
  - { on: 2026-07-01, tree: G3, crop: early, fruit: 1 }
  # the first of the year
  - { on: 2026-07-20, tree: G3, crop: early, fruit: 3 } # in the rain
  - { on: 2026-07-22, tree: G3, crop: early, fruit: 1 }
  # after the heat
  - { on: 2026-07-24, tree: G3, crop: early, fruit: 4 }
  - { on: 2026-07-24, tree: G3, crop: early, fruit: 1 }
drops:
`);
});

test('words of a taster come behind those that stand there', () => {
  const words = (sheet: Readonly<Record<string, readonly string[]>>): NewEntry => ({
    section: 'tastings',
    entry: {
      on: '2026-07-20',
      samples: Object.keys(sheet).map((tree) => ({ tree, crop: 'early' })),
      words: {
        mara: Object.fromEntries(Object.entries(sheet).map(([key, all]) => [key, [...all]])),
      },
    },
  });
  const text = `season: 2026
tastings:
  - on: 2026-07-20
    samples: [{ tree: G3, crop: breba }]
    words:
      mara: { G3: [melon] } # said at once
    note: warm
`;
  const more = text
    .replace('crop: breba }]', 'crop: breba }, { tree: Y1, crop: early }]')
    .replace('[melon] }', '[melon, fresh], Y1: [mild] }');
  expect(after(text, words({ G3: ['melon', 'fresh'], Y1: ['mild'] }))).toBe(more);
  expect(after(text, words({ G3: ['melon'] }))).toBe(text);
  const lines = text.replace(
    'mara: { G3: [melon] } # said at once',
    'mara:\n        G3:\n          - melon # said at once',
  );
  expect(after(lines, words({ G3: ['fresh'] }))).toBe(
    lines.replace('# said at once\n', '# said at once\n          - fresh\n'),
  );
});

test('an absent section comes in its place among the others', () => {
  expect(
    after('season: 2026\n\ncounts:\n\n# what happened\nevents:\n', pick('2026-07-24')),
  ).toBe(`season: 2026

counts:

picks:
  - { on: 2026-07-24, tree: G3, crop: early, fruit: 1 }

# what happened
events:
`);
});

test('an empty file is begun; its comments stay on top', () => {
  expect(after('', pick('2026-07-24'))).toBe(`# What was seen in 2026. Check it with: pomary check
season: 2026

picks:
  - { on: 2026-07-24, tree: G3, crop: early, fruit: 1 }
`);
  expect(after('# mine\r\n', pick('2026-07-24'))).toBe(
    '# mine\r\nseason: 2026\r\n\r\npicks:\r\n  - { on: 2026-07-24, tree: G3, crop: early, fruit: 1 }\r\n',
  );
});

test('what cannot be changed safely is refused with its reason', () => {
  expect(after('{ season: 2026 }\n', pick('2026-07-24'))).toBe('entry-root-brackets');
  expect(
    after('season: 2026\npicks: [\n  # why\n  { on: 2026-07-01 } ]\n', pick('2026-07-24')),
  ).toBe('entry-list-brackets');
  expect(after('season: 2026\npicks: { a: 1 }\n', pick('2026-07-24'))).toBe('value-wrong');
  expect(after('season: 2026\npicks: [\n', pick('2026-07-24'))).toMatch(/yaml/);
  expect(after('- 1\n', pick('2026-07-24'))).toBe('entry-file-shape');
  expect(after('season: 2026\n', pick('2026-02-30'))).toBe('date-unreal');
});

test('each added entry is named by the place where it stands', () => {
  const result = placeEntries(
    file('season: 2026\npicks:\n  - { on: 2026-07-20, tree: G3, crop: early, fruit: 3 }\n'),
    [pick('2026-07-01')],
  );
  expect(result.kind === 'placed' && result.added[0]?.at.path).toEqual(['picks', 0]);
});

const SITTING = `season: 2026
tastings:
  - on: 2026-07-24 # on the bench
    samples:
      - { tree: G3, crop: breba, as: "417" } # ripe?
      # the doubtful one
      - tree: Y1
        crop: early
    scores:   # by taster
      mara: { "417": { sweetness: 8 } }
  # the day after
  - { on: 2026-07-25, samples: [{ tree: G3, crop: early }], scores: { mara: { G3: { flavour: 2 } } } }
`;
const taste = (on: string, extra: object): NewEntry => ({
  section: 'tastings',
  entry: { on, samples: [], ...extra },
});

test('a taste joins the sitting of its date, under the label the sample has there', () => {
  const made = after(
    SITTING,
    taste('2026-07-24', {
      samples: [
        { tree: 'G3', crop: 'early', ripeness: 'ripe' },
        { tree: 'Y1', crop: 'early', brix: 19.5 },
        { tree: 'Y1', crop: 'main' },
        { tree: 'P2', crop: 'early' },
      ],
      scores: {
        mara: { G3: { flavour: 9 } },
        joss: { Y1: { sweetness: 5 }, P2: { sweetness: 6 } },
      },
      order: { joss: ['G3', ['Y1', 'P2']] },
    }),
    taste('2026-07-25', {
      samples: [{ tree: 'G3', crop: 'early', eye: 3 }],
      scores: { mara: { G3: { sweetness: 3 } }, joss: { G3: { sweetness: 4 } } },
      order: { mara: ['G3'] },
    }),
  );
  expect(made).toBe(`season: 2026
tastings:
  - on: 2026-07-24 # on the bench
    samples:
      - { tree: G3, crop: breba, as: "417", ripeness: ripe } # ripe?
      # the doubtful one
      - tree: Y1
        crop: early
        brix: 19.5
      - { tree: Y1, crop: main, as: Y1-main }
      - { tree: P2, crop: early }
    scores:   # by taster
      mara: { "417": { sweetness: 8, flavour: 9 } }
      joss: { Y1: { sweetness: 5 }, P2: { sweetness: 6 } }
    order:
      joss: ["417", [Y1, P2]]
  # the day after
  - { on: 2026-07-25, samples: [{ tree: G3, crop: early, eye: 3 }], scores: { mara: { G3: { flavour: 2, sweetness: 3 } }, joss: { G3: { sweetness: 4 } } }, order: { mara: [G3] } }
`);
});

test('a sitting in pieces comes together; a sitting with blanks is filled', () => {
  const pieces = ['mara', 'joss'].map((taster) =>
    taste('2026-07-26', {
      samples: [{ tree: 'G3', crop: 'early' }],
      scores: { [taster]: { G3: { flavour: 9 } } },
    }),
  );
  expect(after('season: 2026\n', ...pieces)).toBe(`season: 2026

tastings:
  - on: 2026-07-26
    samples:
      - { tree: G3, crop: early }
    scores:
      mara: { G3: { flavour: 9 } }
      joss: { G3: { flavour: 9 } }
`);
  const blank = 'season: 2026\ntastings:\n- on: 2026-07-26\n  samples: []\n  scores:\n';
  expect(after(blank, ...pieces)).toBe(`season: 2026
tastings:
- on: 2026-07-26
  samples:
    - { tree: G3, crop: early }
  scores:
    mara: { G3: { flavour: 9 } }
    joss: { G3: { flavour: 9 } }
`);
});

test('what is written down about a sitting is never overwritten', () => {
  const scores = { mara: { G3: { sweetness: 7 } } };
  const samples = [{ tree: 'G3', crop: 'early' }];
  const result = placeEntries(file(SITTING), [taste('2026-07-24', { samples, scores })], {
    early: 'breba',
    main: 'main',
  });
  expect(result.kind === 'refused' && result.diagnostics[0]?.message).toBe(
    'the score of mara for sweetness of G3 (served as 417) is already 8; it would become 7',
  );
  expect(
    after(SITTING, taste('2026-07-24', { samples, scores: { mara: { G3: { sweetness: 8 } } } })),
  ).toBe(SITTING);
});

test('of two sittings on a day, the one that has the samples is meant', () => {
  const two = `season: 2026
tastings:
  - { on: 2026-07-24, samples: [{ tree: G3, crop: early }] }
  - { on: 2026-07-24, samples: [{ tree: Y1, crop: early }] }
`;
  const scored = (tree: string) =>
    taste('2026-07-24', {
      samples: [{ tree, crop: 'early' }],
      scores: { mara: { [tree]: { sweetness: 7 } } },
    });
  expect(after(two, scored('Y1'))).toContain('tree: Y1, crop: early }], scores: { mara: { Y1');
  expect(after(two, scored('P2'))).toBe('sitting-unclear');
});

test('a score goes to a taster whose sheet is still blank, or is refused', () => {
  const score: NewEntry = {
    section: 'tastings',
    entry: {
      on: '2026-08-01',
      samples: [{ tree: 'G3', crop: 'main' }],
      scores: { mara: { G3: { flavour: 7 } } },
    },
  };
  const sitting = `season: 2026
tastings:
  - on: 2026-08-01
    samples: [{ tree: G3, crop: main }]
`;
  expect(after(`${sitting}    scores:\n      mara:\n`, score)).toBe(
    `${sitting}    scores:\n      mara:\n        G3: { flavour: 7 }\n`,
  );
  expect(after(`${sitting}    scores: { mara: }\n`, score)).toBe('entry-list-brackets');
});
