import { describe, expect, it } from 'vitest';
import { ledgerWith, seasonText } from '../../tests/diagnostics/base-ledger.ts';
import { expectRead, readFiles, told } from '../../tests/support/read-marked.ts';
import type { Wording } from '../diagnostics/diagnostic.ts';
import * as namingWords from '../diagnostics/words/naming.ts';
import * as readingWords from '../diagnostics/words/reading.ts';
import { MAX_FILE_BYTES } from './decode.ts';
import { readLedger } from './read-ledger.ts';
import { REST_UNCHECKED } from './yaml-read.ts';

/** Season text with marks; `good` is the same with the slip put right. */
interface Case {
  readonly bad: Readonly<Record<string, string>>;
  readonly good: Readonly<Record<string, string>>;
}

const trial = (lines: string) => ({ 'ledger.yaml': lines });
const season = (lines: string) => ({ 'seasons/2026.yaml': seasonText(lines) });
const seasonPair = (bad: string, good: string): Case => ({ bad: season(bad), good: season(good) });

const TRIAL = `title: Tidewrack Lane fig trial
fruit: fig
traits: [sweetness, flavour]
tasters: { mara: Mara, joss: Joss }
sites: { glass: { name: glasshouse, cover: glass }, yard: { name: south wall, cover: open } }
`;
const TASTING = `tastings:
  - on: 2026-07-24
    samples: [{ tree: G1, crop: early }, { tree: Y1, crop: early, as: "417" }]
`;

/** A sample of every rule of reading that a line of YAML can break, with its cure. */
const CASES: Readonly<Record<string, Case>> = {
  'yaml-tab': seasonPair(
    'counts:\n\t- { on: 2026-07-02, tree: G1, crop: early, fruit: 1 } # expect: yaml-tab@1\n',
    'counts:\n  - { on: 2026-07-02, tree: G1, crop: early, fruit: 1 }\n',
  ),
  'yaml-syntax': seasonPair(
    'counts:\n  - { on: 2026-07-02, tree: G1, crop: early fruit: 1 } # expect: yaml-syntax@45\n',
    'counts:\n  - { on: 2026-07-02, tree: G1, crop: early, fruit: 1 }\n',
  ),
  'merge-conflict': seasonPair(
    [
      'counts:',
      '  - { on: 2026-07-02, tree: G1, crop: early, fruit: 1 }',
      '<<<<<<< HEAD # expect: merge-conflict@1',
      '  - { on: 2026-07-03, tree: G1, crop: early, fruit: 2 }',
      '=======',
      '  - { on: 2026-07-03, tree: Y1, crop: early, fruit: 3 }',
      '>>>>>>> theirs',
      '',
    ].join('\n'),
    'note: "a line of <<<<<<< and ======= in a text"\ncounts:\n  - { on: 2026-07-02, tree: G1, crop: early, fruit: 1 }\n',
  ),
  'empty-map-filled': {
    bad: {
      'trees.yaml': '{} # expect: empty-map-filled@1\nG1: { cultivar: amber, site: glass }\n',
    },
    good: { 'trees.yaml': '# {}\nG1: { cultivar: amber, site: glass }\n' },
  },
  'key-twice': seasonPair(
    'counts:\n  - { on: 2026-07-02, tree: G1, crop: early, fruit: 1, tree: G2 } # expect: key-twice@56\n',
    'counts:\n  - { on: 2026-07-02, tree: G1, crop: early, fruit: 1 }\n',
  ),
  'yaml-anchor': seasonPair(
    'note: &first text # expect: yaml-anchor@7\ncounts:\n  - { on: 2026-07-02, tree: G1, crop: early, fruit: 1, note: *first } # expect: yaml-anchor@62\n',
    'note: "&first text"\n',
  ),
  'yaml-tag': seasonPair('note: !!str 12 # expect: yaml-tag@7\n', 'note: "!!str 12"\n'),
  'yaml-directive': {
    bad: {
      'trees.yaml':
        '%YAML 1.1 # expect: yaml-directive@1\n---\nG1: { cultivar: amber, site: glass }\n',
    },
    good: { 'trees.yaml': '---\nG1: { cultivar: amber, site: glass }\n' },
  },
  'yaml-documents': {
    bad: {
      'trees.yaml':
        'G1: { cultivar: amber, site: glass }\n--- # expect: yaml-documents@1\nG2: { cultivar: amber, site: glass }\n',
    },
    good: { 'trees.yaml': '---\nG1: { cultivar: amber, site: glass }\n...\n' },
  },
  'number-odd': seasonPair(
    [
      'counts:',
      '  - { on: 2026-07-02, tree: 007, crop: early, fruit: 1 } # expect: number-odd@29',
      '  - { on: 2026-07-02, tree: G1, crop: early, fruit: 0x10 } # expect: number-odd@53',
      '  - { on: 2026-07-02, tree: G1, crop: early, fruit: 1e3 } # expect: number-odd@53',
      '  - { on: 2026-07-02, tree: G1, crop: early, fruit: .inf } # expect: number-odd@53',
      '  - { on: 2026-07-02, tree: G1, crop: early, fruit: .nan } # expect: number-odd@53',
      '  - { on: 2026-07-02, tree: G1, crop: early, fruit: 1_0 } # expect: number-odd@53',
      '  - { on: 2026-07-02, tree: G1, crop: early, fruit: 1e400 } # expect: number-odd@53',
      '  - { on: 2026-07-02, tree: G1, crop: early, fruit: 12345678901234567 } # expect: number-odd@53',
      '',
    ].join('\n'),
    'counts:\n  - { on: 2026-07-02, tree: G1, crop: early, fruit: 16, note: "007, 0x10 and 1e3" }\n',
  ),
  'key-unknown': seasonPair(
    'counts:\n  - { on: 2026-07-02, tree: G1, crop: early, fruit: 1, branch: 3 } # expect: key-unknown@56\n',
    'counts:\n  - { on: 2026-07-02, tree: G1, crop: early, fruit: 1, branches: 3 }\n',
  ),
  'colon-missing': seasonPair(
    'counts:\n  - { on: 2026-07-02, tree: G1, crop early, fruit: 1 } # expect: colon-missing@33\n',
    'counts:\n  - { on: 2026-07-02, tree: G1, crop: early, fruit: 1 }\n',
  ),
  'key-missing': seasonPair(
    'counts:\n  - { tree: G1, crop: early, fruit: 1 } # expect: key-missing@7\n',
    'counts:\n  - { on: 2026-07-02, tree: G1, crop: early, fruit: 1 }\n',
  ),
  'key-wrong': {
    bad: {
      'cultivars.yaml':
        'amber lantern: { name: Amber, bears: common } # expect: key-wrong@1\namber: { name: A, bears: common }\nwidow: { name: W, bears: common }\nheron: { name: H, bears: common }\n',
    },
    good: {},
  },
  'value-wrong': seasonPair(
    'counts:\n  - { on: 2026-07-02, tree: G1, crop: early, fruit: a few } # expect: value-wrong@53\n',
    'counts:\n  - { on: 2026-07-02, tree: G1, crop: early, fruit: 3 }\n',
  ),
  'date-unreal': seasonPair(
    'counts:\n  - { on: 2026-02-30, tree: G1, crop: early, fruit: 1 } # expect: date-unreal@11\n',
    'counts:\n  - { on: 2026-02-28, tree: G1, crop: early, fruit: 1 }\n',
  ),
  'quantity-unreadable': seasonPair(
    'picks:\n  - { on: 2026-07-24, tree: G1, crop: early, weights: [52.4, 3 stone] } # expect: quantity-unreadable@62\n',
    'picks:\n  - { on: 2026-07-24, tree: G1, crop: early, weights: [52.4, 3 oz] }\n',
  ),
  'quantity-range': seasonPair(
    'picks:\n  - { on: 2026-07-24, tree: G1, crop: early, weights: [52.4, -47] } # expect: quantity-range@62\n',
    'picks:\n  - { on: 2026-07-24, tree: G1, crop: early, weights: [52.4, 47] }\n',
  ),
  'season-mismatch': {
    bad: { 'seasons/2025.yaml': 'season: 2026 # expect: season-mismatch@9\n' },
    good: { 'seasons/2025.yaml': 'season: 2025\n' },
  },
  'event-two-targets': seasonPair(
    'events:\n  - { on: 2026-07-10, tree: G1, site: glass, kind: feed } # expect: event-two-targets@39\n',
    'events:\n  - { on: 2026-07-10, site: glass, kind: feed }\n',
  ),
  'pick-empty': seasonPair(
    'picks:\n  - { on: 2026-07-24, tree: G1, crop: early, weight: 580 } # expect: pick-empty@5\n',
    'picks:\n  - { on: 2026-07-24, tree: G1, crop: early, fruit: 11, weight: 580 }\n',
  ),
  'tree-unknown': seasonPair(
    'drops:\n  - { on: 2026-07-24, tree: G9, crop: early, fruit: 1 } # expect: tree-unknown@29\n',
    'drops:\n  - { on: 2026-07-24, tree: G1, crop: early, fruit: 1 }\n',
  ),
  'cultivar-unknown': {
    bad: {
      'trees.yaml': 'G1: { cultivar: ambre, site: glass } # expect: cultivar-unknown@17\n',
    },
    good: { 'trees.yaml': 'G1: { cultivar: amber, site: glass }\n' },
  },
  'site-unknown': {
    bad: { 'trees.yaml': 'G1: { cultivar: amber, site: grass } # expect: site-unknown@30\n' },
    good: { 'trees.yaml': 'G1: { cultivar: amber, site: glass }\n' },
  },
  'taster-unknown': seasonPair(
    `${TASTING}    scores:\n      maar: { G1: { flavour: 8 } } # expect: taster-unknown@7\n`,
    `${TASTING}    scores:\n      mara: { G1: { flavour: 8 } }\n`,
  ),
  'trait-unknown': seasonPair(
    `${TASTING}    scores:\n      mara: { G1: { flavor: 8 } } # expect: trait-unknown@21\n`,
    `${TASTING}    scores:\n      mara: { G1: { flavour: 8 } }\n`,
  ),
  'score-stranger': seasonPair(
    `${TASTING}    scores:\n      mara: { Y1: { flavour: 8 } } # expect: score-stranger@15\n`,
    `${TASTING}    scores:\n      mara: { "417": { flavour: 8 } }\n`,
  ),
  'score-off-scale': seasonPair(
    `${TASTING}    scores:\n      mara: { G1: { flavour: 11 } } # expect: score-off-scale@30\n`,
    `${TASTING}    scores:\n      mara: { G1: { flavour: 9.5 } }\n`,
  ),
  'order-stranger': seasonPair(
    `${TASTING}    order:\n      mara: [G1, Y1] # expect: order-stranger@18\n`,
    `${TASTING}    order:\n      mara: [G1, 417]\n`,
  ),
  'order-repeat': seasonPair(
    `${TASTING}    order:\n      mara: [G1, ["417", G1]] # expect: order-repeat@26\n`,
    `${TASTING}    order:\n      mara: [["417", G1]]\n`,
  ),
  'sample-twice': seasonPair(
    'tastings:\n  - on: 2026-07-24\n    samples: [{ tree: G1, crop: early }, { tree: G1, crop: main }] # expect: sample-twice@50\n',
    'tastings:\n  - on: 2026-07-24\n    samples: [{ tree: G1, crop: early }, { tree: G1, crop: main, as: G1-2 }]\n',
  ),
  'crop-unknown': seasonPair(
    'drops:\n  - { on: 2026-07-24, tree: G1, crop: brebba, fruit: 1 } # expect: crop-unknown@39\n',
    'drops:\n  - { on: 2026-07-24, tree: G1, crop: breba, fruit: 1 }\n',
  ),
  'crop-words': {
    bad: trial(`${TRIAL}crops: { early: main } # expect: crop-words@8\n`),
    good: trial(`${TRIAL}crops: { early: breba }\n`),
  },
  'trait-taken': {
    bad: trial(`${TRIAL.replace('flavour]', 'size] # expect: trait-taken@21')}`),
    good: {},
  },
  'trait-twice': {
    bad: trial(`${TRIAL.replace('flavour]', 'sweetness] # expect: trait-twice@21')}`),
    good: {},
  },
  'scale-empty': {
    bad: trial(`${TRIAL}scale: { low: 10, high: 1 } # expect: scale-empty@8\n`),
    good: trial(`${TRIAL}scale: { low: 1, high: 10 }\n`),
  },
  'part-unknown': {
    bad: trial(`${TRIAL}rank: { weights: { flavor: 3 } } # expect: part-unknown@20\n`),
    good: trial(`${TRIAL}rank: { weights: { flavour: 3 } }\n`),
  },
  'band-points': {
    bad: trial(
      `${TRIAL}rank: { weights: { size: 3 }, bands: { size: [[80, 10], [20, 1]] } } # expect: band-points@46\n`,
    ),
    good: trial(`${TRIAL}rank: { weights: { size: 3 }, bands: { size: [[20, 1], [80, 10]] } }\n`),
  },
  'band-unit-missing': {
    bad: trial(
      `${TRIAL}units: imperial\nrank: { weights: { size: 3 }, bands: { size: [[1, 1], [3, 10]] } } # expect: band-unit-missing@46\n`,
    ),
    good: trial(
      `${TRIAL}units: imperial\nrank: { weights: { size: 3 }, bands: { size: [["1 oz", 1], ["90 g", 10]] } }\n`,
    ),
  },
  'degree-limits': {
    bad: trial(`${TRIAL}degree_days: { base: 36, upper: 10 } # expect: degree-limits@33\n`),
    good: trial(`${TRIAL}degree_days: { base: 10, upper: 36 }\n`),
  },
};

/** Rules that a mark in the file cannot show, told by their places instead. */
const ELSEWHERE: Readonly<Record<string, () => readonly string[]>> = {
  'file-not-utf8': () => {
    const latin1 = Uint8Array.from(
      'amber: { name: F\u00eate, bears: common }',
      (letter) => letter.codePointAt(0) ?? 0,
    );
    return told(readFiles({ ...ledgerWith({}), 'cultivars.yaml': latin1 }).diagnostics);
  },
  'file-too-large': () => {
    const files = Object.entries(ledgerWith({})).map(([path, text]) => {
      const bytes = new TextEncoder().encode(text);
      return { path, bytes, size: bytes.length };
    });
    const huge = { path: 'seasons/2026.yaml', bytes: undefined, size: MAX_FILE_BYTES + 1 };
    return told(readLedger([...files, huge]).diagnostics);
  },
  'file-missing': () => {
    const { 'trees.yaml': _, ...rest } = ledgerWith({});
    return told(readFiles(rest).diagnostics);
  },
  'file-empty': () => told(readFiles(ledgerWith({ 'ledger.yaml': '# none yet\n' })).diagnostics),
  'file-ignored': () =>
    told(readFiles(ledgerWith({ 'seasons/2026.yml': 'season: 2026\n' })).diagnostics),
  'weather-unreadable': () =>
    told(
      readFiles(ledgerWith({ 'weather/2026.csv': 'date,tmin,tmax\n2026-07-01,19,9\n' }))
        .diagnostics,
    ),
};

const PLACES: Readonly<Record<string, string>> = {
  'file-not-utf8': 'cultivars.yaml:1:17',
  'file-too-large': 'seasons/2026.yaml:1:1',
  'file-missing': 'ledger.yaml:1:1',
  'file-empty': 'ledger.yaml:1:1',
  'file-ignored': 'seasons/2026.yml:1:1',
  'weather-unreadable': 'weather/2026.csv:2:1',
};

const named = [...Object.values(readingWords), ...Object.values(namingWords)].map(
  (words) => (words as Wording<never>).rule,
);

it('a key by another name for it is met with the right one', () => {
  const hintFor = (files: Readonly<Record<string, string>>) => {
    const { diagnostics } = readFiles(ledgerWith(files));
    return diagnostics.flatMap(({ rule, advice }) => (rule === 'key-unknown' ? [advice] : []));
  };
  const pick = (key: string) =>
    season(`picks:\n  - { on: 2026-07-24, tree: G1, crop: early, fruit: 3, ${key}: 1 }\n`);
  for (const [key, meant] of [
    ['wasps', 'insect'],
    ['fruit_fly', 'insect'],
    ['birds', 'bird'],
    ['rot', 'mould'],
    ['cracked', 'split'],
    ['slugs', 'animal'],
  ]) {
    expect(hintFor(pick(key ?? '')), key).toEqual([`did you mean ${meant}?`]);
  }
  expect(hintFor(pick('hail'))[0]).toMatch(/^keys here: on, tree, crop/);
  expect(hintFor({ 'trees.yaml': 'G1: { variety: amber, site: yard }\n' })).toEqual([
    'did you mean cultivar?',
  ]);
});

describe('a file that is no YAML', () => {
  const restOf = (cultivars: string) => {
    const { diagnostics } = readFiles({ 'cultivars.yaml': cultivars });
    return diagnostics
      .filter(({ at }) => at.file.path === 'cultivars.yaml')
      .map(({ advice }) => advice.endsWith(REST_UNCHECKED));
  };

  it('says once, at its last slip, that the rest is checked later', () => {
    expect(restOf('a: { name: A bears: x }\nb: { nam: B }\nc: { name: C bears: y }\n')).toEqual([
      false,
      true,
    ]);
    expect(restOf('a: { nam: A }\nb: &x { name: B }\n')).toEqual([true]);
    expect(restOf('a: { nam: A, bears: common }\n')).not.toContain(true);
  });
});

describe('the rules of reading', () => {
  it('each have a case here', () => {
    expect([...Object.keys(CASES), ...Object.keys(ELSEWHERE)].sort()).toEqual([...named].sort());
  });

  it.each(Object.entries(CASES))('%s: the slip is told where it stands', (rule, { bad }) => {
    const { diagnostics } = expectRead(ledgerWith(bad));
    expect(new Set(diagnostics.map((one) => one.rule))).toEqual(new Set([rule]));
  });

  it.each(Object.entries(CASES))('%s: put right, nothing is told', (_, { good }) => {
    expectRead(ledgerWith(good));
  });

  it.each(Object.entries(ELSEWHERE))('%s: told at its place', (rule, tell) => {
    const found = tell();
    expect(found).toContain(`${PLACES[rule]} ${rule}`);
    expect(new Set(found).size).toBe(found.length);
  });
});
