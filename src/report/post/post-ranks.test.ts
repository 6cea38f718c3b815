import { expect, test } from 'vitest';
import { buildLedger } from '../../../tests/support/build-ledger.ts';
import { proseText } from '../../render/format-cell.ts';
import type { Row } from '../table.ts';
import { leadSentence } from './post-ranks.ts';
import type { PostMaterial } from './post-request.ts';

const ledger = buildLedger({
  cultivars: {
    amber: { name: 'Amber Lantern' },
    slate: { name: 'Slate Quay' },
    wall: { name: 'Old Wall Brown', perhaps: 'slate' },
  },
  trees: {},
  seasons: {},
});

/** What is said of rows given as name, index, low, high, letters. */
function said(
  ...given: readonly (readonly [string, number, number | null, number | null, string?])[]
) {
  const rows = given.map(
    ([cultivar, index, low, high, letters], at): Row => ({
      ...{ rank: at + 1, cultivar, crop: 'main', index, low, high },
      letters: letters ?? null,
      topShare: 0.999,
    }),
  );
  const columns = [{ key: 'topShare', label: 'Top 3', kind: 'share', drop: 3 }];
  const material = {
    ledger,
    request: { confidence: 0.9, selection: {} },
    ranks: { rows, columns },
  };
  return proseText(leadSentence(material as unknown as PostMaterial, 'main'));
}

test('where intervals overlap there is no winner, and the rivals are named', () => {
  expect(said(['Amber Lantern', 7.125, 6, 8.2], ['Slate Quay', 6.9, 6.1, 7.6])).toBe(
    'Amber Lantern has the highest index, 7.1 (90 % interval 6.0 to 8.2). It is not a clear winner: its interval overlaps with Slate Quay. The chance that it is truly among the top 3 is over 99 %.',
  );
});

test('intervals that touch overlap', () => {
  expect(said(['Amber Lantern', 7, 6.5, 7.5], ['Slate Quay', 6, 5.5, 6.5])).toContain(
    'not a clear winner',
  );
});

test('a letter in common is no winner either, although the intervals are apart', () => {
  const words = said(['Amber Lantern', 8, 7.5, 8.5, 'a'], ['Slate Quay', 6, 5.5, 6.5, 'ab']);
  expect(words).toContain('not a clear winner');
});

test('only one that nothing reaches stands clear, and even that is not called a winner', () => {
  const words = said(['Amber Lantern', 8, 7.5, 8.5, 'a'], ['Slate Quay', 6, 5.5, 6.5, 'b']);
  expect(words).toContain('stands clear of the rest');
  expect(words).not.toMatch(/winner|best/);
});

test('an interval that is missing leaves the question open', () => {
  expect(said(['Amber Lantern', 8, null, null])).toMatch(/nobody can say how sure that is/);
  expect(said(['Amber Lantern', 8, 7.5, 8.5], ['Slate Quay', 2, null, null])).toContain(
    'not a clear winner',
  );
});

test('a name in doubt is marked', () => {
  expect(said(['Old Wall Brown', 8, 7.5, 8.5])).toMatch(/^Old Wall Brown \(\?\) has/);
});

test('many rivals are counted, not listed', () => {
  const rivals = ['A', 'B', 'C', 'D', 'E', 'F'].map((name) => [name, 6, 5, 8] as const);
  expect(said(['Amber Lantern', 7, 6, 8], ...rivals)).toContain(
    'overlaps with A, B, C and 3 more.',
  );
});

test('nothing ranked is said so', () => {
  expect(said()).toBe('No cultivar could be ranked.');
});
