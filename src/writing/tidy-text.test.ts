import { expect, test } from 'vitest';
import { tidyText } from './tidy-text.ts';

function tidied(text: string, path = 'seasons/2026.yaml'): string {
  const result = tidyText({ path, text, bom: false });
  return result.kind === 'tidied' ? result.file.text : (result.diagnostics[0]?.rule ?? '');
}

test('sections and entries come in order, each on one line, comments with what they belong to', () => {
  expect(
    tidied(`# Tidewrack Lane


season:   2026   # the wet one
# what was picked
picks:   # grams

  # weighed on the kitchen scale

  # the last one
  - tree: "G3"
    on: 2026-07-29
    crop: 'early'
    fruit: 3
    note: "no"

  # --- the first days ---

  - {on: 2026-07-24,tree: G3,crop: early, weights: [52.40,47.0]}   # dry
    # own words
# at the end
counts:
- {tree: G3, on: 2026-07-02, branches: 8, crop: early, fruit: 21}
`),
  ).toBe(
    `# Tidewrack Lane

season: 2026  # the wet one

# at the end
counts:
  - { on: 2026-07-02, tree: G3, crop: early, fruit: 21, branches: 8 }

# what was picked
picks:  # grams

  # weighed on the kitchen scale

  # --- the first days ---

  - { on: 2026-07-24, tree: G3, crop: early, weights: [52.40, 47.0] }  # dry
    # own words
  # the last one
  - { on: 2026-07-29, tree: G3, crop: early, fruit: 3, note: "no" }
`.replace('picks:  # grams\n\n', 'picks:  # grams\n'),
  );
});

test('an entry with words inside only moves', () => {
  expect(
    tidied(`season: 2026
picks:
    - on: 2026-07-29 # late
      tree: G3
      crop: early
      fruit: 3
    - on: 2026-07-24
      tree: G3
      crop: early
      fruit: 3
      note: |
        two
          lines
`),
  ).toBe(`season: 2026

picks:
  - on: 2026-07-24
    tree: G3
    crop: early
    fruit: 3
    note: |
      two
        lines
  - on: 2026-07-29 # late
    tree: G3
    crop: early
    fruit: 3
`);
});

test('a tasting takes one line a key, a long list of weights is filled', () => {
  const weights = Array.from({ length: 30 }, (_, index) => `${40 + index}.5`).join(', ');
  const made = tidied(`season: 2026
tastings: [{ on: 2026-07-24, scores: { mara: { G3: { flavour: 9 } } }, samples: [{ crop: early, tree: G3 }] }]
picks:
- { on: 2026-07-24, tree: G3, crop: early, weights: [${weights}] }
`);
  expect(made).toContain(`tastings:
  - on: 2026-07-24
    samples:
      - { tree: G3, crop: early }
    scores:
      mara: { G3: { flavour: 9 } }
`);
  expect(made).toMatch(/^ {4}weights: \[40\.5, 41\.5.*,\n {6}\d.*\n/m);
  for (const line of made.split('\n')) expect(line.length).toBeLessThanOrEqual(100);
  expect(tidied(made)).toBe(made);
});

test('the other files keep order and form', () => {
  expect(
    tidied(
      `amber: {name: "Amber Lantern",   bears: 'common'}  # mine\n\n\nyarrow:\n   name: 'Yarrow: Bell'\n   note: no   \n`,
      'cultivars.yaml',
    ),
  ).toBe(
    `amber: { name: Amber Lantern, bears: common }  # mine\n\nyarrow:\n   name: 'Yarrow: Bell'\n   note: "no"\n`,
  );
});

test('what cannot be read is refused', () => {
  expect(tidied('season: [\n')).toMatch(/^yaml/);
  expect(tidied('{ season: 2026 }')).toBe('entry-root-brackets');
  expect(tidied('')).toBe('');
});

test('what reads like a number only for its commas gets quotes once, and keeps them', () => {
  for (const value of ['2019-04,,,', '2019-04-01,', '1,2']) {
    const once = tidied(`G3: { planted: 2019 }\nY1:\n  planted: ${value}\n`, 'trees.yaml');
    expect(once).toContain(`planted: "${value}"\n`);
    expect(tidied(once, 'trees.yaml')).toBe(once);
  }
});
