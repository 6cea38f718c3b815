import { wording } from '../diagnostic.ts';
import { listed } from './rules-phrases.ts';

/*
 * Rules on the form of a name are those of the International Code of Nomenclature for Cultivated
 * Plants, 9th edition (Brickell et al. 2016, Scripta Horticulturae 18). They are hints: a name is
 * kept exactly as it was received.
 */

interface Named {
  readonly name: string;
}

const KEEP = 'if this is the name it came with, leave it';

export const nameCapitalWords = wording<Named>({
  rule: 'name-capital',
  severity: 'hint',
  why: 'A cultivar name begins with a capital letter (ICNCP, 9th edition).',
  message: ({ name }) => `the name "${name}" begins with a small letter`,
  advice: () => 'begin it with a capital letter',
});

export const nameGenusWords = wording<Named & { genus: string }>({
  rule: 'name-genus',
  severity: 'hint',
  why: 'A cultivar name does not repeat the botanical name of its genus (ICNCP, 9th edition).',
  message: ({ name, genus }) => `the name "${name}" repeats the name of the genus, ${genus}`,
  advice: () => 'give the part that names the cultivar alone',
});

export const nameLengthWords = wording<Named & { length: number }>({
  rule: 'name-length',
  severity: 'hint',
  why: 'A cultivar name established in 1996 or later has at most 30 characters, spaces not counted (ICNCP, 9th edition). Older names may be longer.',
  message: ({ name, length }) =>
    `the name "${name}" has ${length} characters without spaces; a name new since 1996 may have 30`,
  advice: () => `${KEEP}; a name of your own should be shorter`,
});

export const nameMarksWords = wording<Named & { marks: readonly string[] }>({
  rule: 'name-marks',
  severity: 'hint',
  why: 'Besides letters and digits a cultivar name may hold apostrophes, commas, full stops, hyphens, slashes and at most two exclamation marks, not side by side; no fractions (ICNCP, 9th edition).',
  message: ({ name, marks }) =>
    `the name "${name}" holds ${listed(marks)}, which a cultivar name may not`,
  advice: () => `${KEEP}; a name of your own should do without`,
});

export const nameNumeralsWords = wording<Named>({
  rule: 'name-numerals',
  severity: 'hint',
  why: 'A cultivar name is not made of numerals alone (ICNCP, 9th edition).',
  message: ({ name }) => `the name "${name}" is all numerals`,
  advice: () => `${KEEP}, perhaps with a word in front: "Seedling 12"`,
});

export const nameQuotesWords = wording<Named & { bare: string }>({
  rule: 'name-quotes',
  severity: 'hint',
  why: 'Quotation marks around a cultivar name mark it off in running text and are no part of it (ICNCP, 9th edition).',
  message: ({ name }) => `the name ${name} has quotation marks typed around it`,
  advice: ({ bare }) => `leave them out: name: ${bare}`,
});

export const nameSingleLetterWords = wording<Named>({
  rule: 'name-single-letter',
  severity: 'hint',
  why: 'A cultivar name is more than a single letter (ICNCP, 9th edition).',
  message: ({ name }) => `the name "${name}" is a single letter`,
  advice: () => KEEP,
});

export const nameSuperlativeWords = wording<Named & { word: string }>({
  rule: 'name-superlative',
  severity: 'hint',
  why: 'A cultivar name does not praise with a superlative: the next season may prove it wrong (ICNCP, 9th edition).',
  message: ({ name, word }) => `the name "${name}" holds the superlative "${word}"`,
  advice: () => `${KEEP}; a name of your own should do without`,
});

export const nameWordWords = wording<Named & { words: readonly string[] }>({
  rule: 'name-word',
  severity: 'hint',
  why: 'Words such as "variety", "strain" or "improved" may not be part of a cultivar name established since 1959 (ICNCP, 9th edition).',
  message: ({ name, words }) =>
    `the name "${name}" holds ${listed(words.map((word) => `"${word}"`))}, which a cultivar name may not`,
  advice: () => `${KEEP}; a name of your own should do without`,
});

export const nameRepeatWords = wording<Named & { key: string; firstKey: string }>({
  rule: 'name-repeat',
  severity: 'warning',
  why: 'Two cultivars of one name cannot be told apart in a table.',
  message: ({ name, key, firstKey }) => `${key} has the same name as ${firstKey}, "${name}"`,
  advice: () =>
    'if they are one cultivar, keep one entry and point its trees to it; if not, give one a name that tells them apart',
});

export const synonymIsNameWords = wording<{
  key: string;
  synonym: string;
  otherKey: string;
}>({
  rule: 'synonym-is-name',
  severity: 'warning',
  why: 'A name that two entries claim hides that they may be one cultivar. Said as a doubt, it is shown wherever the two are compared.',
  message: ({ key, synonym, otherKey }) =>
    `"${synonym}" is given as another name of ${key}, but is the name of ${otherKey}`,
  advice: ({ otherKey }) =>
    `if they may be one cultivar, say so: perhaps: { same_as: ${otherKey}, why: ... }; otherwise take it out of \`also\``,
});

export const cultivarLoopWords = wording<{ keys: readonly string[] }>({
  rule: 'cultivar-loop',
  severity: 'error',
  why: 'A doubt about identity points from the less certain entry to the more certain one. A chain that comes back to its beginning has no certain end.',
  message: ({ keys }) =>
    keys.length === 1
      ? `${keys[0]} is said to be perhaps the same as itself`
      : `the doubts go round in a loop: ${keys.join(' -> ')} -> ${keys[0]}`,
  advice: ({ keys }) =>
    keys.length === 1 ? 'take out `perhaps`' : 'take `perhaps` out of the one you are surest of',
});

export const cultivarWithoutTreesWords = wording<{ key: string }>({
  rule: 'cultivar-without-trees',
  severity: 'hint',
  why: 'A cultivar without a tree can have no figures.',
  message: ({ key }) => `no tree in trees.yaml is ${key}`,
  advice: ({ key }) => `add its tree: cultivar: ${key}, or take the cultivar out`,
});
