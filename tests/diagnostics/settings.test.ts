import { describe, expect, it } from 'vitest';
import { checkFiles, expectMarked, pointedAt } from '../support/check-files.ts';
import { readFiles } from '../support/read-marked.ts';
import { cultivarsAnd, ledgerFile, ledgerWith, seasonText } from './base-ledger.ts';

const BANDS = '    productivity: [[0, 1], [4, 10]]';
const WEIGHTS = '  weights: { flavour: 3, productivity: 2 }';

describe('the first frost of autumn', () => {
  const EVENTS = `
events:
  - { on: 2026-04-20, kind: frost, low: -0.6 }
  - { on: 2026-11-02, kind: frost, low: -3 }
  - { on: 2026-10-12, kind: frost, low: -1.5 }`;

  const UNSAID = { 'ledger.yaml': ledgerFile('frost: { 2026: 2026-10-29 }', '# no frost yet') };

  it('is asked for where a frost was entered and ledger.yaml has none', () => {
    const files = { 'seasons/2026.yaml': seasonText(`${EVENTS} # expect: frost-unsaid\n`) };
    const found = expectMarked(ledgerWith({ ...UNSAID, ...files }));
    expect(found[0]?.advice).toBe(
      'if it was this one, add 2026: 2026-10-12 below frost: in ledger.yaml',
    );
  });

  it('is not asked for where it is said, nor of a frost in spring', () => {
    const spring = EVENTS.split('\n').slice(0, 3).join('\n');
    expectMarked(ledgerWith({ 'seasons/2026.yaml': seasonText(`${EVENTS}\n`) }));
    expectMarked(ledgerWith({ ...UNSAID, 'seasons/2026.yaml': seasonText(`${spring}\n`) }));
  });
});

describe('a frost that is not likely', () => {
  const frost = (on: string, low = -1, mark = '') =>
    `  - { on: ${on}, kind: frost, low: ${low} }${mark}\n`;
  const ASKED = ' # expect: frost-in-summer';
  const PLACE = 'place: { name: Tidewrack Lane, latitude: 52.1 }';
  const at = (latitude: string, autumn: string, events: string) => ({
    ...ledgerWith({ 'seasons/2026.yaml': seasonText(`events:\n${events}`) }),
    'ledger.yaml': ledgerFile(PLACE, `place: { name: Tidewrack Lane${latitude} }`).replace(
      '2026: 2026-10-29',
      `2026: ${autumn}`,
    ),
  });

  it('is asked about in high summer, on both sides of the equator', () => {
    const NORTH =
      frost('2026-06-02') +
      frost('2026-07-10', -1, ASKED) +
      frost('2026-08-20') +
      frost('2026-11-01');
    const [asked] = expectMarked(at(', latitude: 52.1', '2026-10-29', NORTH));
    expect(asked?.message).toBe('a frost is entered on 2026-07-10, in high summer');
    expect(asked?.advice).toBe('was it another day? If it is right, leave it');
    const SOUTH = frost('2025-07-10') + frost('2026-01-10', -1, ASKED) + frost('2026-05-20');
    expectMarked(at(', latitude: -43', '2026-05-20', SOUTH));
    expectMarked(at(', latitude: -16', '2026-05-20', SOUTH.replace(ASKED, '')));
    const [unplaced] = expectMarked(at('', '2026-10-29', frost('2026-07-10', -1, ASKED)));
    expect(unplaced?.advice).toContain('South of the equator add the latitude');
  });

  it('is asked about where it is given as the first of autumn', () => {
    const files = at(', latitude: 52.1', '2026-10-29', frost('2026-11-01'));
    const [asked] = expectMarked({
      ...files,
      'ledger.yaml': (files['ledger.yaml'] ?? '').replace(
        'frost: { 2026: 2026-10-29 }',
        `frost:\n  2025: 2025-09-09\n  2026: 2026-04-29${ASKED}`,
      ),
    });
    expect(asked?.message).toContain('2026-04-29, before the end of high summer');
  });

  it('is asked about where it is said to be mild', () => {
    const MILD = ' # expect: frost-mild';
    expectMarked(
      at(', latitude: 52.1', '2026-10-29', frost('2026-11-01', 3) + frost('2026-11-02', 12, MILD)),
    );
  });
});

describe('settings of the rank', () => {
  it('refuses a measured part without a band, unless it weighs nothing', () => {
    const found = expectMarked(
      ledgerWith({
        'ledger.yaml': ledgerFile(
          WEIGHTS,
          `  weights:
    flavour: 3
    productivity: 2
    soundness: 0
    size: 1 # expect: part-without-band`,
        ),
      }),
    );
    expect(found[0]?.advice).toContain('size: [[WORST, 1], [BEST, 10]]');
  });

  it('hints at a band that nothing weighs', () => {
    expectMarked(
      ledgerWith({
        'ledger.yaml': ledgerFile(
          BANDS,
          `${BANDS}\n    size: [[20, 1], [80, 10]] # expect: band-unused`,
        ),
      }),
    );
  });

  const SIZED = (units: string, size: string, mark = '') =>
    ledgerWith({
      'ledger.yaml': ledgerFile(BANDS, `${BANDS}\n    size: ${size}${mark}`)
        .replace(WEIGHTS, '  weights: { flavour: 3, productivity: 2, size: 1 }')
        .replace('fruit: fig', `fruit: fig\nunits: ${units}`),
    });

  it.each([
    ['metric', '[[20, 1], [80, 10]]'],
    ['metric', '[["20 g", 1], [80, 10]]'],
    ['metric', '[["0.7 oz", 1], ["2.8 oz", 10]]'],
    ['imperial', '[[0, 1], ["2.8 oz", 10]]'],
    ['imperial', '[["20 g", 1], ["80 g", 10]]'],
  ])('takes sizes with their unit: %s %s', (units, size) => {
    expectMarked(SIZED(units, size));
  });

  it.each(['[[0.7, 1], [2.8, 10]]', '[["20 g", 1], [80, 10]]', '[["0.7", 1], ["2.8 oz", 10]]'])(
    'asks for the unit of a size where fruit is weighed in oz: %s',
    (size) => {
      expectMarked(SIZED('imperial', size, ' # expect: band-unit-missing'));
    },
  );

  it('shows how to write the unit, one way or the other', () => {
    const found = checkFiles(SIZED('imperial', '[[0.7, 1], [2.8, 10]]'));
    expect(found[0]?.advice).toBe(
      'write the unit: size: [["0.7 oz", 1], ["2.8 oz", 10]] if you meant oz, size: [["0.7 g", 1], ["2.8 g", 10]] if you meant g',
    );
  });

  it.each(['20 stone', 'big'])('refuses a size of %s', (size) => {
    expectMarked(SIZED('metric', `[["${size}", 1], [80, 10]]`, ' # expect: quantity-unreadable'));
  });

  it('reads sizes to the gram', () => {
    const read = (size: string) =>
      readFiles(SIZED('imperial', size)).ledger?.trial.rank.bands.get('size');
    expect(read('[["1 oz", 1], ["100 g", 10]]')).toEqual([
      [28.349523125, 1],
      [100, 10],
    ]);
  });

  // Three cultivars with 9 fruit on a branch or more, where 4 are the best the band knows.
  const OUTRUN = (band: string, heron: number) => ({
    ...ledgerWith({
      'ledger.yaml': ledgerFile(BANDS, `    productivity: ${band}`),
      'cultivars.yaml': cultivarsAnd('').replaceAll(/smyrna|san-pedro/g, 'common'),
      'seasons/2026.yaml': seasonText(`counts:
  - { on: 2026-08-01, tree: G1, crop: main, fruit: 90, branches: 10 }
  - { on: 2026-08-01, tree: W1, crop: main, fruit: 80, branches: 5 }
  - { on: 2026-08-01, tree: H1, crop: main, fruit: ${heron}, branches: 5 }
  - { on: 2026-08-01, tree: G2, crop: main, fruit: 90, branches: 10 }
  - { on: 2026-08-01, tree: Y1, crop: main, fruit: 90, branches: 10 }
`),
    }),
  });

  it('warns of a band that all cultivars lie beyond', () => {
    const above = expectMarked(OUTRUN('[[0, 1], [4, 10]] # expect: band-outrun', 60));
    expect(above[0]?.message).toBe(
      'the band of productivity tells hardly anything apart: in the main crop 3 of 3 cultivars lie above its end at 4 fruit per branch, and all of these get 10',
    );
    const below = expectMarked(OUTRUN('[[50, 1], [90, 10]] # expect: band-outrun', 60));
    expect(below[0]?.message).toContain('lie below its end at 50 fruit per branch, and all');
  });

  it('says nothing of a band that parts some of them', () => {
    expectMarked(OUTRUN('[[0, 1], [4, 10]]', 10));
    expectMarked(OUTRUN('[[0, 1], [10, 10]]', 60));
  });

  it('refuses a band that leaves the scale', () => {
    const found = expectMarked(
      ledgerWith({
        'ledger.yaml': ledgerFile(
          BANDS,
          '    productivity: [[0, 1], [2, 5], [4, 100]] # expect: band-off-scale',
        ),
      }),
    );
    expect(pointedAt(found[0] ?? expect.fail())).toBe('100');
  });
});

describe('other settings', () => {
  it('questions a standard that stands nowhere', () => {
    expectMarked(
      ledgerWith({
        'ledger.yaml': ledgerFile(
          'standard: amber',
          'standard: bell # expect: standard-without-tree',
        ),
        'cultivars.yaml': cultivarsAnd(
          'bell: { name: Cinder Bell, bears: common } # expect: cultivar-without-trees\n',
        ),
      }),
    );
  });

  it('leaves a standard that is no cultivar to the reader', () => {
    expectMarked(
      ledgerWith({
        'ledger.yaml': ledgerFile('standard: amber', 'standard: bel # expect: cultivar-unknown'),
      }),
    );
  });

  it.each([
    ['{ increase_above: 7.5, discard_below: 5 }', ''],
    ['{ increase_above: 5, discard_below: 5 }', ''],
    ['{ min_seasons: 2 }', ''],
    ['{ increase_above: 4, discard_below: 5 }', ' # expect: verdict-limits'],
    ['{ increase_above: 75, discard_below: 5 }', ' # expect: verdict-limits'],
    ['{ increase_above: 8, discard_below: 0.5 }', ' # expect: verdict-limits'],
    ['{ discard_below: 8 }', ' # expect: verdict-limits'],
  ])('holds the limits of the verdict to the scale and to their order: %s', (verdict, mark) => {
    expectMarked(
      ledgerWith({
        'ledger.yaml': ledgerFile('fruit: fig', `fruit: fig\nverdict: ${verdict}${mark}`),
      }),
    );
  });
});
