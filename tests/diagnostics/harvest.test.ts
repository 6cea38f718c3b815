import { describe, expect, it } from 'vitest';
import { checkFiles, expectMarked, pointedAt } from '../support/check-files.ts';
import { ledgerFile, ledgerWith, ledgerWithSeason, seasonText } from './base-ledger.ts';

describe('counts', () => {
  it('questions branches that change by more than half and more than two', () => {
    expectMarked(
      ledgerWithSeason(`
counts:
  - { on: 2026-06-01, tree: G1, crop: early, fruit: 9, branches: 8 }
  - { on: 2026-06-20, tree: G1, crop: early, fruit: 9, branches: 12 }
  - { on: 2026-07-02, tree: G1, crop: early, fruit: 9, branches: 19 } # expect: count-branches-jump
  - { on: 2026-07-09, tree: G1, crop: early, fruit: 9, branches: 9 } # expect: count-branches-jump
  - { on: 2026-06-01, tree: G2, crop: early, fruit: 9, branches: 1 }
  - { on: 2026-07-01, tree: G2, crop: early, fruit: 9, branches: 3 }
  - { on: 2026-08-01, tree: G2, crop: main, fruit: 9, branches: 30 }
`),
    );
  });

  it('compares by date and passes over counts without branches', () => {
    expectMarked(
      ledgerWithSeason(`
counts:
  - { on: 2026-07-02, tree: G1, crop: main, fruit: 9, branches: 20 } # expect: count-branches-jump
  - { on: 2026-06-20, tree: G1, crop: main, fruit: 9 }
  - { on: 2026-06-01, tree: G1, crop: main, fruit: 9, branches: 8 }
`),
    );
  });

  it('takes pruning and winter damage for a reason', () => {
    expectMarked(
      ledgerWithSeason(`
counts:
  - { on: 2026-06-01, tree: G1, crop: main, fruit: 9, branches: 20 }
  - { on: 2026-07-01, tree: G1, crop: main, fruit: 9, branches: 5 }
  - { on: 2026-06-01, tree: Y1, crop: main, fruit: 9, branches: 20 }
  - { on: 2026-07-01, tree: Y1, crop: main, fruit: 9, branches: 5 } # expect: count-branches-jump
events:
  - { on: 2026-06-15, site: glass, kind: prune }
  - { on: 2026-05-15, tree: Y1, kind: winter-damage }
`),
    );
  });

  it('questions two counts on one day', () => {
    expectMarked(
      ledgerWithSeason(`
counts:
  - { on: 2026-06-01, tree: G1, crop: main, fruit: 9 }
  - { on: 2026-06-01, tree: G1, crop: early, fruit: 9 }
  - { on: 2026-06-01, tree: G2, crop: main, fruit: 9 }
  - { on: 2026-06-01, tree: G1, crop: main, fruit: 7 } # expect: count-repeat
  - { on: 2026-06-08, tree: G1, crop: main, fruit: 7 }
`),
    );
  });
});

describe('a pick in itself', () => {
  it('refuses more spoiled fruit than were picked', () => {
    const found = expectMarked(
      ledgerWithSeason(`
picks:
  - { on: 2026-07-24, tree: G1, crop: early, fruit: 3, split: 2, bird: 1 }
  - { on: 2026-07-25, tree: G1, crop: early, fruit: 3, split: 2, bird: 2 } # expect: pick-defects-exceed
  - { on: 2026-07-26, tree: G1, crop: early, weights: [40, 42], mould: 3 } # expect: pick-defects-exceed
`),
    );
    expect(found[0]?.message).toBe('4 spoiled fruit (split 2, bird 2), but only 3 picked');
  });

  it('refuses more weights than fruit, and takes fewer', () => {
    const found = expectMarked(
      ledgerWithSeason(`
picks:
  - { on: 2026-07-24, tree: G1, crop: early, fruit: 3, weights: [40, 42] }
  - { on: 2026-07-25, tree: G1, crop: early, fruit: 1, weights: [40, 42] } # expect: pick-weights-exceed
`),
    );
    expect(pointedAt(found[0] ?? expect.fail())).toBe('1');
  });

  it('refuses a whole that weighs less than its parts', () => {
    expectMarked(
      ledgerWithSeason(`
picks:
  - { on: 2026-07-24, tree: G1, crop: early, fruit: 9, weights: [40, 42, 44], weight: 126 }
  - { on: 2026-07-25, tree: G1, crop: early, fruit: 9, weights: [40, 42, 44], weight: 124.5 }
  - { on: 2026-07-26, tree: G1, crop: early, fruit: 9, weights: [40, 42, 44], weight: 124.4 } # expect: pick-weight-below-sum
  - { on: 2026-07-27, tree: G1, crop: early, weights: [40, 42, 44], weight: 12.6 } # expect: pick-weight-below-sum
`),
    );
  });

  it('questions a whole that weighs more than all its fruit', () => {
    expectMarked(
      ledgerWithSeason(`
picks:
  - { on: 2026-07-24, tree: G1, crop: early, weights: [40, 42, 44], weight: 127.5 }
  - { on: 2026-07-25, tree: G1, crop: early, weights: [40, 42, 44], weight: 127.6 } # expect: pick-weight-differs
  - { on: 2026-07-26, tree: W1, crop: early, weights: [140, 142, 144], weight: 430.2 }
  - { on: 2026-07-27, tree: W1, crop: early, fruit: 3, weights: [140, 142, 144], weight: 430.3 } # expect: pick-weight-differs
  - { on: 2026-07-28, tree: G1, crop: early, fruit: 4, weights: [40, 42, 44], weight: 170 }
`),
    );
  });
});

describe('picks against each other and the counts', () => {
  it('questions more fruit gone since the last count than hung then', () => {
    const found = expectMarked(
      ledgerWithSeason(`
counts:
  - { on: 2026-07-02, tree: G1, crop: early, fruit: 30 }
  - { on: 2026-07-12, tree: G1, crop: early, fruit: 18 }
drops:
  - { on: 2026-07-20, tree: G1, crop: early, fruit: 2 }
picks:
  - { on: 2026-07-11, tree: G1, crop: early, fruit: 12 }
  - { on: 2026-07-24, tree: G1, crop: early, fruit: 10 } # expect: pick-exceeds-count
  - { on: 2026-07-29, tree: G1, crop: early, fruit: 2 }
  - { on: 2026-07-12, tree: G1, crop: early, fruit: 9 }
`),
    );
    expect(found[0]?.message).toBe(
      '23 breba fruit of tree G1 picked or dropped since 2026-07-12, when only 18 were counted',
    );
  });

  it('lets a miscount of two, or of a tenth, pass', () => {
    expectMarked(
      ledgerWithSeason(`
counts:
  - { on: 2026-07-12, tree: G1, crop: early, fruit: 4 }
  - { on: 2026-07-12, tree: G1, crop: main, fruit: 50 }
  - { on: 2026-07-12, tree: G2, crop: main, fruit: 50 }
picks:
  - { on: 2026-07-24, tree: G1, crop: early, fruit: 6 }
  - { on: 2026-07-24, tree: G1, crop: main, fruit: 55 }
  - { on: 2026-07-24, tree: G2, crop: main, fruit: 56 } # expect: pick-exceeds-count
  - { on: 2026-07-24, tree: Y1, crop: main, fruit: 300 }
`),
    );
  });

  it('questions the same pick typed twice', () => {
    const found = expectMarked(
      ledgerWithSeason(`
picks:
  - { on: 2026-07-24, tree: G1, crop: early, weights: [40, 42, 44] }
  - { on: 2026-07-24, tree: G1, crop: early, weights: [40, 42, 45] }
  - { on: 2026-07-24, tree: G1, crop: main, weights: [40, 42, 44] }
  - { on: 2026-07-25, tree: G1, crop: early, weights: [40, 42, 44] }
  - { on: 2026-07-24, tree: G1, crop: early, weights: [40, 42, 44], note: again } # expect: pick-repeat
`),
    );
    expect(found[0]?.related[0]?.at.start).toBeLessThan(found[0]?.at.start ?? 0);
  });

  it('asks about a drop typed twice', () => {
    expectMarked(
      ledgerWithSeason(`
drops:
  - { on: 2026-07-20, tree: G1, crop: early, fruit: 2 }
  - { on: 2026-07-20, tree: G1, crop: early, fruit: 3 }
  - { on: 2026-07-20, tree: G1, crop: main, fruit: 2 }
  - { on: 2026-07-21, tree: G1, crop: early, fruit: 2 }
  - { on: 2026-07-20, tree: G1, crop: early, fruit: 2, note: wind } # expect: drop-repeat
`),
    );
  });
});

describe('weights against the rest of the cultivar', () => {
  const EIGHT = '[51, 47.5, 61.3, 44, 55.2, 49.8, 58, 40.1]';

  it('asks for the decimal point that slipped', () => {
    const found = expectMarked(
      ledgerWith({
        'seasons/2025.yaml': seasonText(
          `picks: [{ on: 2025-07-24, tree: G1, crop: early, weights: ${EIGHT} }]\n`,
          2025,
        ),
        'seasons/2026.yaml': seasonText(`
picks:
  - { on: 2026-07-24, tree: Y1, crop: early, weights: [33, 524] } # expect: fruit-weight-unlikely
  - { on: 2026-07-25, tree: Y1, crop: early, weights: [5.2, 98] } # expect: fruit-weight-unlikely
  - { on: 2026-07-26, tree: Y1, crop: early, fruit: 11, weight: 5800 } # expect: fruit-weight-unlikely
  - { on: 2026-07-27, tree: Y1, crop: early, fruit: 11, weight: 580 }
  - { on: 2026-09-27, tree: Y1, crop: main, weights: [4, 500] }
`),
      }),
    );
    expect(found.map(({ advice }) => advice)).toEqual([
      'did you mean 52.4 g?',
      'did you mean 52 g?',
      'did you mean 580 g?',
    ]);
    expect(pointedAt(found[0] ?? expect.fail())).toBe('524');
  });

  it('asks about a comma that parts what may be one weight', () => {
    const found = expectMarked(
      ledgerWithSeason(`
picks:
  - { on: 2026-07-24, tree: Y1, crop: early, weights: [41, 39,50, 40] } # expect: weight-comma
  - { on: 2026-07-25, tree: W1, crop: early, weights: [41,9] } # expect: weight-comma
  - { on: 2026-07-26, tree: G1, crop: early, weights: [41,39,40] }
  - { on: 2026-07-27, tree: G1, crop: early, weights: [41.5,38,40.25] }
  # - { on: 2026-07-28, tree: G1, crop: early, weights: [41, 39,5] }
`),
    );
    expect(found.map(({ message, advice }) => [message, advice])).toEqual([
      [
        '39,50 in a list is two weights, 39 and 50',
        'write 39.50 if that is meant, or 39, 50 if they are two',
      ],
      [
        '41,9 in a list is two weights, 41 and 9',
        'write 41.9 if that is meant, or 41, 9 if they are two',
      ],
    ]);
    expect(pointedAt(found[0] ?? expect.fail())).toBe('39,50');
  });

  it('asks of the first pick of all', () => {
    const found = expectMarked(
      ledgerWithSeason(`
picks:
  - { on: 2026-07-24, tree: G1, crop: early, weights: [41.5, 38.2, 44, 415] } # expect: fruit-weight-unlikely
`),
    );
    expect(found.map(({ advice }) => advice)).toEqual(['did you mean 41.5 g?']);
  });

  it('finds little fault with fewer than eight weights, and takes no best fruit as a yardstick', () => {
    expectMarked(
      ledgerWithSeason(`
picks:
  - { on: 2026-07-24, tree: G1, crop: early, weights: [51, 47, 61, 44, 55, 49, 200] }
  - { on: 2026-07-25, tree: G1, crop: early, weights: [151, 147, 161], fruit: 30, sample: best }
`),
    );
  });

  it('holds the few weights of a cultivar against those of all, within wider limits', () => {
    const found = expectMarked(
      ledgerWithSeason(`
picks:
  - { on: 2026-07-24, tree: G1, crop: early, weights: [41.5, 38.2, 44] }
  - { on: 2026-07-24, tree: W1, crop: early, weights: [52, 47.5, 55] }
  - { on: 2026-07-25, tree: G1, crop: early, weights: [41] }
  - { on: 2026-07-26, tree: W1, crop: early, weights: [12, 415] } # expect: fruit-weight-unlikely
  - { on: 2026-09-26, tree: G1, crop: main, weights: [4, 415] }
`),
    );
    expect(found.map(({ message, advice }) => [message, advice])).toEqual([
      [
        'a fruit of 415 g is far from what cultivars bear in the breba crop here: half of 9 weights lie at or below 44 g',
        'did you mean 41.5 g?',
      ],
    ]);
  });

  it('takes weights that are all alike without calling the next one odd', () => {
    expectMarked(
      ledgerWithSeason(`
picks:
  - { on: 2026-07-24, tree: G1, crop: early, weights: [50, 50, 50, 50, 50, 50, 50, 60] }
  - { on: 2026-07-25, tree: G1, crop: early, weights: [120, 22, 125] } # expect: fruit-weight-unlikely
`),
    );
  });

  it('scores 0.6745 |x - median| / MAD on logarithms, as Iglewicz and Hoaglin (1993)', () => {
    // Powers of two: logarithms (base 2) 1, 2, 2, 3, 3, 4, 4, 5 have median 3 and MAD 1, so that
    // 4.5 is passed when 0.6745 x > 4.5, at x = 6.672 doublings: 8 * 2^6.672 = 815.7.
    const weights = (last: number) =>
      ledgerWithSeason(`
picks:
  - { on: 2026-07-24, tree: G1, crop: early, weights: [2, 4, 4, 8, 8, 16, 16, 32] }
  - { on: 2026-07-25, tree: G1, crop: early, weights: [8, ${last}], sample: best, fruit: 9 }
`);
    expect(checkFiles(weights(814))).toEqual([]);
    expect(checkFiles(weights(818)).map(({ rule }) => rule)).toEqual(['fruit-weight-unlikely']);
  });

  it("speaks in the ledger's own unit", () => {
    const found = expectMarked({
      ...ledgerWithSeason(`
picks:
  - { on: 2026-07-24, tree: G1, crop: early, weights: [1.8, 1.7, 2.1, 1.6, 1.9, 1.75, 2, 1.4] }
  - { on: 2026-07-25, tree: G1, crop: early, weights: [18.5] } # expect: fruit-weight-unlikely
`),
      'ledger.yaml': ledgerFile('fruit: fig', 'fruit: fig\nunits: imperial'),
    });
    expect(found[0]?.message).toContain('a fruit of 18.5 oz');
    expect(found[0]?.advice).toBe('did you mean 1.85 oz?');
  });
});

describe('growth', () => {
  it('questions a trunk that shrinks', () => {
    expectMarked(
      ledgerWith({
        'seasons/2025.yaml': seasonText(
          `
growth:
  - { on: 2025-03-01, tree: G1, girth: 14.2 }
  - { on: 2025-03-01, tree: G2, girth: 14.2 }
  - { on: 2025-03-01, tree: Y1, girth: 14.2 }
events:
  - { on: 2025-12-20, tree: Y1, kind: winter-damage, dieback: 60 }
`,
          2025,
        ),
        'seasons/2026.yaml': seasonText(`
growth:
  - { on: 2026-03-01, tree: G1, girth: 1.55 } # expect: girth-shrinks
  - { on: 2026-03-01, tree: G2, girth: 13 }
  - { on: 2026-03-01, tree: Y1, girth: 3 }
`),
      }),
    );
  });
});

describe('a girth twice a day', () => {
  it('is questioned where the two differ, whichever comes first', () => {
    const found = expectMarked(
      ledgerWithSeason(`
growth:
  - { on: 2026-10-10, tree: G1, girth: 9, height: 2.1 m }
  - { on: 2026-10-10, tree: G1, girth: 19.5 } # expect: girth-repeat
  - { on: 2026-10-10, tree: G2, girth: 19 }
  - { on: 2026-10-10, tree: G2, girth: 9 } # expect: girth-repeat
  - { on: 2026-10-10, tree: Y1, girth: 9 }
  - { on: 2026-10-10, tree: Y1, girth: 90 mm, height: 180 }
`),
    );
    expect(found[0]?.message).toBe('girth of tree G1 is both 9 cm and 19.5 cm on 2026-10-10');
  });
});

describe('the wrong crop for the day', () => {
  const pick = (on: string, crop: string, tree = 'G1', mark = '') =>
    `  - { on: ${on}, tree: ${tree}, crop: ${crop}, fruit: 2 }${mark}\n`;
  const ASKED = ' # expect: crop-out-of-season';

  it('asks about an early crop after the main crop has begun, and a main crop before the early one', () => {
    const found = expectMarked(
      ledgerWithSeason(
        `picks:\n${[
          pick('2026-07-24', 'early'),
          pick('2026-07-30', 'early'),
          pick('2026-08-29', 'main'),
          pick('2026-09-09', 'main'),
          pick('2026-10-09', 'early', 'G1', ASKED),
          pick('2026-07-01', 'main', 'Y1', ASKED),
          pick('2026-07-24', 'early', 'Y1'),
          pick('2026-07-31', 'early', 'Y1'),
          pick('2026-09-12', 'main', 'Y1'),
        ].join('')}`,
      ),
    );
    expect(found.map(({ message }) => message).sort()).toEqual([
      'the breba crop of tree G1 is picked on 2026-10-09, when its main crop has been picked since 2026-08-29',
      'the main crop of tree Y1 is picked on 2026-07-01, long before the last of its breba crop on 2026-07-31',
    ]);
    expect(found[0]?.severity).toBe('warning');
    expect(found[0]?.advice).toBe('was it the main crop, or another day? If it is right, leave it');
  });

  it('asks about an early crop at the end of the growing year, on both sides of the equator', () => {
    const late = `picks:\n${pick('2026-11-27', 'early', 'G1', ASKED)}`;
    expectMarked(ledgerWithSeason(late));
    expectMarked(
      ledgerWithSeason(
        `counts:\n  - { on: 2026-11-27, tree: G1, crop: early, fruit: 3, branches: 2 }${ASKED}\n`,
      ),
    );
    const south = (latitude: number, picks: string) => ({
      ...ledgerWithSeason(`picks:\n${picks}`),
      'ledger.yaml': ledgerFile(
        'place: { name: Tidewrack Lane, latitude: 52.1 }',
        `place: { name: Tidewrack Lane, latitude: ${latitude} }`,
      ).replace('2026: 2026-10-29', '2026: 2026-05-29'),
    });
    expectMarked(south(-41, pick('2026-01-24', 'early') + pick('2026-03-02', 'main')));
    expectMarked(south(-41, pick('2026-05-27', 'early', 'G1', ASKED)));
    // Where there is no winter, fruit ripens at any time.
    expectMarked(south(-12, pick('2026-05-27', 'early')));
  });

  it('asks about figs that are picked in the open before any is ripe, where it is cool', () => {
    const glass = pick('2026-03-08', 'early') + pick('2026-06-02', 'main', 'G2');
    const open = pick('2026-03-08', 'early', 'Y1', ASKED) + pick('2026-05-20', 'early', 'W1');
    const [asked] = expectMarked(ledgerWithSeason(`picks:\n${open}${glass}`));
    expect(asked?.message).toBe(
      'the breba crop of tree Y1 is picked on 2026-03-08, before any is ripe in the open',
    );
    const PLACE = 'place: { name: Tidewrack Lane, latitude: 52.1 }';
    const main = (latitude: number, fruit: string, mark: string) => ({
      ...ledgerWithSeason(`picks:\n${pick('2026-05-02', 'main', 'Y1', mark)}`),
      'ledger.yaml': ledgerFile(PLACE, PLACE.replace('52.1', `${latitude}`)).replace(
        'fruit: fig',
        `fruit: ${fruit}`,
      ),
    });
    expectMarked(main(52.1, 'fig', ASKED));
    expectMarked(main(34, 'fig', ''));
    const files = main(52.1, 'fig', ASKED);
    const unplaced = files['ledger.yaml'].replace(', latitude: 52.1', '');
    const [south] = expectMarked({ ...files, 'ledger.yaml': unplaced });
    expect(south?.advice).toContain('South of the equator add the latitude');
    expectMarked(main(52.1, 'strawberry', ''));
  });

  it('asks about a day far from all that other years gave at that site', () => {
    const other = (year: number) =>
      seasonText(
        `picks:\n${['08-29', '09-05', '09-12', '09-20', '10-04']
          .map((day) => pick(`${year}-${day}`, 'main'))
          .join('')}`,
        year,
      );
    const season = (picks: string) => ({
      ...ledgerWithSeason(`picks:\n${picks}`),
      'seasons/2025.yaml': other(2025),
    });
    const [asked] = expectMarked(season(pick('2026-07-01', 'main', 'G1', ASKED)));
    expect(asked?.message).toBe(
      'the main crop of tree G1 is picked on 2026-07-01, 59 days before all picks of Amber Lantern in other years there',
    );
    expectMarked(season(pick('2026-12-20', 'main', 'G1', ASKED)));
    expectMarked(season(pick('2026-07-20', 'main') + pick('2026-11-10', 'main')));
    // Another site may be weeks ahead.
    expectMarked(season(pick('2026-07-01', 'main', 'Y1')));
  });

  it('has nothing to ask of ordinary seasons', () => {
    const ordinary = (shift: number, year: number) =>
      ['G1', 'G2', 'Y1']
        .flatMap((tree, index) => [
          ...[0, 4, 9, 16].map((day) => [tree, 'early', 200 + 10 * index + shift + day] as const),
          ...[0, 6, 14, 30, 55].map(
            (day) => [tree, 'main', 226 + 12 * index + shift + day] as const,
          ),
        ])
        .map(([tree, crop, day]) => {
          const on = new Date(Date.UTC(year, 0, day)).toISOString().slice(0, 10);
          return pick(on, crop, tree);
        })
        .join('');
    expectMarked({
      ...ledgerWithSeason(`picks:\n${ordinary(0, 2026)}`),
      // A late year, and an early one.
      'seasons/2025.yaml': seasonText(`picks:\n${ordinary(21, 2025)}`, 2025),
      'seasons/2024.yaml': seasonText(`picks:\n${ordinary(-18, 2024)}`, 2024),
      'trees.yaml':
        ledgerWith({})['trees.yaml']?.replaceAll(/, (?:received|planted): [-0-9]+/g, '') ?? '',
    });
  });
});
