import { expect, it } from 'vitest';
import { madeTrial } from '../../tests/support/made-trial.ts';
import { indexInWords } from './index-words.ts';

it('names what the ledger weighs, and nothing else', () => {
  const ledger = madeTrial([{ key: 'a', scores: [[5, 6]] }]);
  const weighing = (weights: Readonly<Record<string, number>>) =>
    indexInWords({
      ...ledger,
      trial: {
        ...ledger.trial,
        rank: {
          weights: new Map(Object.entries(weights)),
          bands: new Map([
            [
              'size',
              [
                [20, 1],
                [80, 10],
              ],
            ],
          ]),
        },
      },
    });
  expect(weighing({ flavour: 3, sweetness: 1, size: 1, soundness: 0 })).toBe(
    'Taste and size make one index from 1 to 10',
  );
  expect(weighing({ flavour: 3 })).toBe('Taste makes one index from 1 to 10');
  // Without a band a measured part is none of the index.
  expect(weighing({ size: 1, productivity: 2 })).toBe('Size makes one index from 1 to 10');
});
