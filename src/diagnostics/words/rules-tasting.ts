import { wording } from '../diagnostic.ts';
import { listed } from './rules-phrases.ts';

export const sheetHalfFilledWords = wording<{
  taster: string;
  sample: string;
  given: readonly string[];
  missing: readonly string[];
}>({
  rule: 'sheet-half-filled',
  severity: 'warning',
  why: 'Where a sitting scores several traits, a sample without one of them is compared on fewer scores than the rest. A trait that nobody scored at the sitting is not missed.',
  message: ({ taster, sample, given, missing }) =>
    `${taster} scored ${listed(given)} of ${sample} but not ${listed(missing)}`,
  advice: ({ missing }) => `add ${listed(missing)} if it is on the score sheet`,
});

export const orderAgainstScoresWords = wording<{
  taster: string;
  better: string;
  worse: string;
  betterMean: string;
  worseMean: string;
}>({
  rule: 'order-against-scores',
  severity: 'hint',
  why: 'A taster may well prefer what scored lower, but an order more than one point in ten against their own scores is more often written the wrong way round.',
  message: ({ taster, better, worse, betterMean, worseMean }) =>
    `${taster} puts ${better} before ${worse}, but scored them ${betterMean} and ${worseMean}`,
  advice: () => 'check that the order begins with the best and that no labels were swapped',
});

export const tastingEmptyWords = wording<{ on: string }>({
  rule: 'tasting-empty',
  severity: 'hint',
  why: 'A sitting without scores, words, orders or a measure of its samples adds nothing to any figure.',
  message: ({ on }) => `the tasting of ${on} has samples but neither scores, words nor an order`,
  advice: () => 'add `scores:` or `order:` from the score sheets',
});

export const wordUnlistedWords = wording<{ word: string; nearest: string | undefined }>({
  rule: 'word-unlisted',
  severity: 'hint',
  why: 'Words are counted by how they are spelled, so a slip of the pen is a word of its own. A new word is welcome.',
  message: ({ word }) => `${word} is not among the words of ledger.yaml`,
  advice: ({ nearest }) =>
    nearest === undefined
      ? 'add it to words in ledger.yaml, or leave it'
      : `did you mean ${nearest}? If not, add it to words in ledger.yaml`,
});
