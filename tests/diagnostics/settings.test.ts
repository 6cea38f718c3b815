import { describe, expect, it } from 'vitest';
import { expectMarked, pointedAt } from '../support/check-files.ts';
import { cultivarsAnd, ledgerFile, ledgerWith } from './base-ledger.ts';

const BANDS = '    productivity: [[0, 1], [4, 10]]';
const WEIGHTS = '  weights: { flavour: 3, productivity: 2 }';

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
