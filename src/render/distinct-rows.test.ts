import fc from 'fast-check';
import { expect, test } from 'vitest';
import { fitColumns } from './fit-columns.ts';

const word = fc.string({ unit: fc.constantFrom(...'abcdeWil'), minLength: 1, maxLength: 14 });
const name = fc.array(word, { minLength: 1, maxLength: 9 }).map((words) => words.join(' '));
const alike = name.map((end) => `Seedling of the Northern Harbour ${end}`);

test('no two names of a table come to look alike, at any width', () => {
  fc.assert(
    fc.property(
      fc.uniqueArray(fc.oneof(name, alike), { minLength: 2, maxLength: 12 }),
      fc.integer({ min: 20, max: 120 }),
      fc.constantFrom('…', '...'),
      (names, width, ellipsis) => {
        const text = { align: 'left', drop: 0 } as const;
        const figure = { key: 'index', header: 'Index', align: 'right', drop: 0 } as const;
        const { columns } = fitColumns(
          [
            { ...text, key: 'cultivar', header: 'Cultivar', cells: names },
            { ...figure, cells: names.map(() => '7.41') },
          ],
          width,
          ellipsis,
        );
        const shown = columns[0]?.cells.map((lines) => lines.join('\n'));
        expect(new Set(shown).size).toBe(names.length);
      },
    ),
  );
});
