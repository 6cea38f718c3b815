import { type Diagnostic, diagnose, type Wording, wording } from '../diagnostics/diagnostic.ts';
import { namesInWords } from '../diagnostics/phrases.ts';
import { groupBy } from '../measure/group-by.ts';
import type { Cultivar } from '../model/collection.ts';
import type { Ledger } from '../model/ledger.ts';
import { spotIn } from '../source/source-file.ts';
import type { Rule } from './rule.ts';

/*
 * Rules on the form of a name are those of the International Code of Nomenclature for Cultivated
 * Plants, 9th edition (Brickell et al. 2016, Scripta Horticulturae 18). They are hints: a name is
 * kept exactly as it was received.
 */

interface Named {
  readonly name: string;
}

const KEEP = 'if this is the name it came with, leave it';

const QUOTED = /^(?:'(.+)'|"(.+)"|`(.+)`|‘(.+)’|“(.+)”|„(.+)[“”]|«(.+)»|‹(.+)›)$/su;

/** What stands between quotation marks typed around a name, or undefined where there are none. */
function insideQuotes(name: string): string | undefined {
  const found = QUOTED.exec(name.trim());
  return found?.slice(1).find((part) => part !== undefined);
}

/** The name without spaces and quotation marks around it. */
function bareName(name: string): string {
  return (insideQuotes(name) ?? name).trim().normalize('NFC');
}

/** What two spellings of one name have in common: neither case, spacing nor quotation marks. */
function nameKey(name: string): string {
  return bareName(name).replace(/\s+/gu, ' ').replace(/[‘’]/gu, "'").toLowerCase();
}

/** The words of a name as they stand. */
function nameWords(name: string): readonly string[] {
  return bareName(name).match(/[\p{L}\p{M}\p{N}'’]+/gu) ?? [];
}

/** A rule on the form of each cultivar's name: the facts where it is broken, else undefined. */
function nameRule<Facts>(
  words: Wording<Facts>,
  broken: (name: string, ledger: Ledger) => Facts | undefined,
): Rule {
  return {
    words: [words],
    *check(ledger): Generator<Diagnostic> {
      for (const { name, at } of ledger.cultivars.values()) {
        const facts = broken(name, ledger);
        if (facts !== undefined) yield diagnose(words, spotIn(at, 'name'), facts);
      }
    },
  };
}

const nameCapitalWords = wording<Named>({
  rule: 'name-capital',
  severity: 'hint',
  why: 'A cultivar name begins with a capital letter (ICNCP, 9th edition).',
  message: ({ name }) => `the name "${name}" begins with a small letter`,
  advice: () => 'begin it with a capital letter',
});

/** Only the first letter: which later words may be small differs between languages. */
export const nameCapital = nameRule(nameCapitalWords, (name) =>
  /^\p{Ll}/u.test(bareName(name)) ? { name } : undefined,
);

const nameGenusWords = wording<Named & { genus: string }>({
  rule: 'name-genus',
  severity: 'hint',
  why: 'A cultivar name does not repeat the botanical name of its genus (ICNCP, 9th edition).',
  message: ({ name, genus }) => `the name "${name}" repeats the name of the genus, ${genus}`,
  advice: () => 'give the part that names the cultivar alone',
});

/** Botanical genera of fruit that are grown for trial by cultivar. */
const GENUS_OF = new Map([
  ['fig', 'Ficus'],
  ['apple', 'Malus'],
  ['pear', 'Pyrus'],
  ['quince', 'Cydonia'],
  ['raspberry', 'Rubus'],
  ['blackberry', 'Rubus'],
  ['strawberry', 'Fragaria'],
  ['grape', 'Vitis'],
]);

export const nameGenus = nameRule(nameGenusWords, (name, { trial }) => {
  const genus = GENUS_OF.get(trial.fruit.toLowerCase());
  if (genus === undefined) return undefined;
  const repeats = nameWords(name).some((word) => word.toLowerCase() === genus.toLowerCase());
  return repeats ? { name, genus } : undefined;
});

const nameLengthWords = wording<Named & { length: number }>({
  rule: 'name-length',
  severity: 'hint',
  why: 'A cultivar name established in 1996 or later has at most 30 characters, spaces not counted (ICNCP, 9th edition). Older names may be longer.',
  message: ({ name, length }) =>
    `the name "${name}" has ${length} characters without spaces; a name new since 1996 may have 30`,
  advice: () => `${KEEP}; a name of your own should be shorter`,
});

const MOST_CHARACTERS = 30;

/** Spaces and the quotation marks around a name do not count. */
export const nameLength = nameRule(nameLengthWords, (name) => {
  const length = [...bareName(name).replace(/\s/gu, '')].length;
  return length > MOST_CHARACTERS ? { name, length } : undefined;
});

const nameMarksWords = wording<Named & { marks: readonly string[] }>({
  rule: 'name-marks',
  severity: 'hint',
  why: 'Besides letters and digits a cultivar name may hold apostrophes, commas, full stops, hyphens, slashes and at most two exclamation marks, not side by side; no fractions (ICNCP, 9th edition).',
  message: ({ name, marks }) =>
    `the name "${name}" holds ${namesInWords(marks)}, which a cultivar name may not`,
  advice: () => `${KEEP}; a name of your own should do without`,
});

const FORBIDDEN = /[^\p{L}\p{M}\p{Nd}\s'’,!.\-‐/\\]/gu;

export const nameMarks = nameRule(nameMarksWords, (name) => {
  const marks = forbiddenMarks(bareName(name));
  return marks.length > 0 ? { name, marks } : undefined;
});

function forbiddenMarks(name: string): readonly string[] {
  const marks = [...new Set(name.match(FORBIDDEN) ?? [])];
  const fraction = /\d+\/\d+/u.exec(name);
  if (fraction !== null) marks.push(`the fraction ${fraction[0]}`);
  if (name.includes('!!')) marks.push('!!');
  else if (name.split('!').length > 3) marks.push('more than two exclamation marks');
  return marks;
}

const nameNumeralsWords = wording<Named>({
  rule: 'name-numerals',
  severity: 'hint',
  why: 'A cultivar name is not made of numerals alone (ICNCP, 9th edition).',
  message: ({ name }) => `the name "${name}" is all numerals`,
  advice: () => `${KEEP}, perhaps with a word in front: "Seedling 12"`,
});

export const nameNumerals = nameRule(nameNumeralsWords, (name) =>
  /^[\p{N}\s]+$/u.test(bareName(name)) ? { name } : undefined,
);

const nameQuotesWords = wording<Named & { bare: string }>({
  rule: 'name-quotes',
  severity: 'hint',
  why: 'Quotation marks around a cultivar name mark it off in running text and are no part of it (ICNCP, 9th edition).',
  message: ({ name }) => `the name ${name} has quotation marks typed around it`,
  advice: ({ bare }) => `leave them out: name: ${bare}`,
});

export const nameQuotes = nameRule(nameQuotesWords, (name) =>
  insideQuotes(name) === undefined ? undefined : { name, bare: bareName(name) },
);

const nameRepeatWords = wording<Named & { key: string; firstKey: string }>({
  rule: 'name-repeat',
  severity: 'warning',
  why: 'Two cultivars of one name cannot be told apart in a table.',
  message: ({ name, key, firstKey }) => `${key} has the same name as ${firstKey}, "${name}"`,
  advice: () =>
    'if they are one cultivar, keep one entry and point its trees to it; if not, give one a name that tells them apart',
});

export const nameRepeat: Rule = { words: [nameRepeatWords], check: findNameRepeat };

function* findNameRepeat(ledger: Ledger): Generator<Diagnostic> {
  const byName = groupBy(ledger.cultivars.values(), ({ name }) => nameKey(name));
  for (const [first, ...others] of byName.values()) {
    if (first === undefined) continue;
    for (const { at, key, name } of others) {
      const facts = { name, key, firstKey: first.key };
      yield diagnose(nameRepeatWords, spotIn(at, 'name'), facts, [
        { at: spotIn(first.at, 'name'), label: 'the first one' },
      ]);
    }
  }
}

const nameSingleLetterWords = wording<Named>({
  rule: 'name-single-letter',
  severity: 'hint',
  why: 'A cultivar name is more than a single letter (ICNCP, 9th edition).',
  message: ({ name }) => `the name "${name}" is a single letter`,
  advice: () => KEEP,
});

export const nameSingleLetter = nameRule(nameSingleLetterWords, (name) =>
  /^\p{L}\p{M}*$/u.test(bareName(name)) ? { name } : undefined,
);

const nameSuperlativeWords = wording<Named & { word: string }>({
  rule: 'name-superlative',
  severity: 'hint',
  why: 'A cultivar name does not praise with a superlative: the next season may prove it wrong (ICNCP, 9th edition).',
  message: ({ name, word }) => `the name "${name}" holds the superlative "${word}"`,
  advice: () => `${KEEP}; a name of your own should do without`,
});

/** By list and not by ending: Forest, Harvest and West praise nothing. */
const SUPERLATIVES = new Set(
  `best biggest choicest earliest fairest finest greatest hardiest heaviest juiciest largest latest
   longest loveliest most prettiest richest smallest strongest sweetest tallest tastiest`.split(
    /\s+/,
  ),
);

export const nameSuperlative = nameRule(nameSuperlativeWords, (name) => {
  const word = nameWords(name).find((one) => SUPERLATIVES.has(one.toLowerCase()));
  return word === undefined ? undefined : { name, word };
});

const nameWordWords = wording<Named & { words: readonly string[] }>({
  rule: 'name-word',
  severity: 'hint',
  why: 'Words such as "variety", "strain" or "improved" may not be part of a cultivar name established since 1959 (ICNCP, 9th edition).',
  message: ({ name, words }) =>
    `the name "${name}" holds ${namesInWords(words.map((word) => `"${word}"`))}, which a cultivar name may not`,
  advice: () => `${KEEP}; a name of your own should do without`,
});

const NOT_IN_NAMES = new Set(
  `cultivar form grex group hybrid improved maintenance mixture selection series sport strain
   transformed variety`.split(/\s+/),
);

export const nameWord = nameRule(nameWordWords, (name) => {
  const words = nameWords(name).filter((word) => NOT_IN_NAMES.has(word.toLowerCase()));
  return words.length > 0 ? { name, words } : undefined;
});

const synonymIsNameWords = wording<{
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

export const synonymIsName: Rule = { words: [synonymIsNameWords], check: findSynonymIsName };

function* findSynonymIsName(ledger: Ledger): Generator<Diagnostic> {
  const byName = groupBy(ledger.cultivars.values(), ({ name }) => nameKey(name));
  for (const cultivar of ledger.cultivars.values()) {
    for (const [index, synonym] of cultivar.also.entries()) {
      const other = byName.get(nameKey(synonym))?.find((one) => one !== cultivar);
      if (other === undefined || isDoubtSaid(cultivar, other)) continue;
      const facts = { key: cultivar.key, synonym, otherKey: other.key };
      yield diagnose(synonymIsNameWords, spotIn(cultivar.at, 'also', index), facts, [
        { at: spotIn(other.at, 'name'), label: 'its name here' },
      ]);
    }
  }
}

function isDoubtSaid(one: Cultivar, other: Cultivar): boolean {
  return one.perhaps?.sameAs === other.key || other.perhaps?.sameAs === one.key;
}
