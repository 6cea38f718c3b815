import fc from 'fast-check';
import { expect, test } from 'vitest';
import { displayWidth } from '../source/display-width.ts';
import { distinctLabels } from './distinct-labels.ts';

const PLACES = ['Wall', 'Weir', 'Wharf', 'Well'];

test('names that begin alike are cut where they do not differ', () => {
  const names = PLACES.map((place) => `Seedling of the Northern Harbour ${place}`);
  expect([...distinctLabels(names, 22, '…').values()]).toEqual([
    'Seedling of…rbour Wall',
    'Seedling of…rbour Weir',
    'Seedling of…bour Wharf',
    'Seedling of…rbour Well',
  ]);
});

test('a name that fits stays whole, even where a cut of another would look like it', () => {
  const labels = distinctLabels(['Seedlings of the Weir', 'Seed…Weir'], 9, '…');
  expect(labels.get('Seed…Weir')).toBe('Seed…Weir');
  expect(labels.get('Seedlings of the Weir')).not.toBe('Seed…Weir');
});

const names = fc.uniqueArray(
  fc.oneof(
    fc.string({ unit: 'grapheme', minLength: 1, maxLength: 60 }),
    // Alike at both ends.
    fc.string({ maxLength: 12 }).map((text) => `Seedling of the ${text} Northern Harbour`),
  ),
  { minLength: 1, maxLength: 40 },
);

test('no two labels are the same, and all fit, whatever the names and the width', () => {
  fc.assert(
    fc.property(
      names,
      fc.integer({ min: 8, max: 40 }),
      fc.constantFrom('…', '...'),
      (some, width, ellipsis) => {
        const labels = distinctLabels(some, width, ellipsis);
        expect(new Set(labels.values()).size).toBe(some.length);
        for (const [name, label] of labels) {
          expect(displayWidth(label)).toBeLessThanOrEqual(width);
          if (displayWidth(name) <= width) expect(label).toBe(name);
        }
      },
    ),
  );
});
