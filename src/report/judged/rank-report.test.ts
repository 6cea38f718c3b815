import { expect, it } from 'vitest';
import { shortHeads } from './rank-report.ts';

it('cuts words to heads that still tell what they are', () => {
  expect(shortHeads(['Sweetness', 'Flavour', 'Productivity', 'Size', 'Soundness'])).toEqual([
    ...['Sweet', 'Flav', 'Prod', 'Size', 'Sound'],
  ]);
});

it('never makes two of them alike', () => {
  expect(shortHeads(['Texture', 'Textural finish'])).toEqual(['Texture', 'Textura']);
  const heads = shortHeads(['Acidity', 'Acidic finish', 'Aroma']);
  expect(new Set(heads).size).toBe(3);
});
