import fc from 'fast-check';
import { expect, test } from 'vitest';
import { didYouMean } from './did-you-mean.ts';

const traits = ['sweetness', 'flavour', 'texture'];

test('one slip of each kind is forgiven: wrong, missing, extra and swapped letter', () => {
  for (const typed of ['sweetnoss', 'sweetnes', 'sweettness', 'sweentess']) {
    expect(didYouMean(typed, traits)).toBe('sweetness');
  }
});

test('case is ignored', () => {
  expect(didYouMean('g3', ['Y1', 'G3'])).toBe('G3');
});

test('nothing is offered for a word that is not near any', () => {
  expect(didYouMean('weight', traits)).toBeUndefined();
  expect(didYouMean('anything', [])).toBeUndefined();
});

test('at most a third of the letters may be wrong', () => {
  expect(didYouMean('abcdxx', ['abcdef'])).toBe('abcdef');
  expect(didYouMean('abcxxx', ['abcdef'])).toBeUndefined();
});

test('another number is another tree where the name is that short', () => {
  expect(didYouMean('G4', ['G3', 'G5'])).toBeUndefined();
  expect(didYouMean('3G', ['G3'])).toBe('G3');
  expect(didYouMean('a', ['b'])).toBeUndefined();
});

test('the nearest wins, then the first', () => {
  expect(didYouMean('amber-lantrn', ['amber-lamp', 'amber-lantern'])).toBe('amber-lantern');
  expect(didYouMean('pot-12', ['pot-13', 'pot-14'])).toBe('pot-13');
});

test('what is offered is a candidate, and an exact one is always found', () => {
  const word = fc.string({ minLength: 1, maxLength: 8 });
  fc.assert(
    fc.property(word, fc.array(word), (typed, candidates) => {
      const offered = didYouMean(typed, candidates);
      if (offered !== undefined) expect(candidates).toContain(offered);
      const found = didYouMean(typed, [...candidates, typed]);
      expect(found?.toLowerCase()).toBe(typed.toLowerCase());
    }),
  );
});
