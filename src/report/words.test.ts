import { describe, expect, it } from 'vitest';
import { counted, listed, sentence, yearsInWords } from './words.ts';

describe('words', () => {
  it.each([
    [0, '0 trees'],
    [1, '1 tree'],
    [2, '2 trees'],
  ])('count %i', (count, expected) => {
    expect(counted(count, 'tree')).toBe(expected);
  });

  it.each([
    [[], ''],
    [['G1'], 'G1'],
    [['G1', 'G2'], 'G1 and G2'],
    [['G1', 'G2', 'G3'], 'G1, G2 and G3'],
    [['G1', 'G2', 'G3', 'G4'], 'G1, G2, G3 and 1 more'],
  ])('list %j', (names, expected) => {
    expect(listed(names, 3)).toBe(expected);
  });

  it.each([
    [[], ''],
    [[2026, 2026], '2026'],
    [[2026, 2024, 2025], '2024 to 2026'],
    [[2026, 2024], '2024, 2026'],
  ])('tell the years %j', (years, expected) => {
    expect(yearsInWords(years)).toBe(expected);
  });

  it('begin a sentence with a capital', () => {
    expect(sentence('early')).toBe('Early');
    expect(sentence('')).toBe('');
  });
});
