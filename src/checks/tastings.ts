import { type Diagnostic, diagnose, wording } from '../diagnostics/diagnostic.ts';
import { didYouMean } from '../diagnostics/did-you-mean.ts';
import { namesInWords } from '../diagnostics/phrases.ts';
import { groupBy } from '../measure/group-by.ts';
import type { Sample, Tasting } from '../model/entries.ts';
import type { Ledger } from '../model/ledger.ts';
import { plainWord } from '../model/plain-word.ts';
import { spotIn } from '../source/source-file.ts';
import { quantityText } from './parts/quantity-text.ts';
import { areWhole, isWholeSeason } from './parts/whole.ts';
import type { Rule } from './rule.ts';

const sheetHalfFilledWords = wording<{
  taster: string;
  sample: string;
  given: readonly string[];
  missing: readonly string[];
}>({
  rule: 'sheet-half-filled',
  severity: 'warning',
  why: 'Where a sitting scores several traits, a sample without one of them is compared on fewer scores than the rest. A trait that nobody scored at the sitting is not missed.',
  message: ({ taster, sample, given, missing }) =>
    `${taster} scored ${namesInWords(given)} of ${sample} but not ${namesInWords(missing)}`,
  advice: ({ missing }) => `add ${namesInWords(missing)} if it is on the score sheet`,
});

export const sheetHalfFilled: Rule = { words: [sheetHalfFilledWords], check: findSheetHalfFilled };

function* findSheetHalfFilled(ledger: Ledger): Generator<Diagnostic> {
  for (const season of ledger.seasons) {
    if (!isWholeSeason(ledger, season)) continue;
    for (const tasting of season.tastings) yield* checkSitting(ledger, tasting);
  }
}

/** Asked of each sheet: the traits that anyone scored at the sitting, in the ledger's order. */
function* checkSitting(ledger: Ledger, { scores }: Tasting): Generator<Diagnostic> {
  const scored = new Set(scores.map(({ trait }) => trait));
  const asked = ledger.trial.traits.filter((trait) => scored.has(trait));
  for (const ofTaster of groupBy(scores, ({ taster }) => taster).values()) {
    for (const sheet of groupBy(ofTaster, ({ sample }) => sample).values()) {
      const first = sheet[0];
      if (first === undefined || sheet.length >= asked.length) continue;
      const given = new Set(sheet.map(({ trait }) => trait));
      yield diagnose(
        sheetHalfFilledWords,
        { ...first.at, part: 'key' },
        {
          taster: first.taster.name,
          sample: first.sample.label,
          given: asked.filter((trait) => given.has(trait)),
          missing: asked.filter((trait) => !given.has(trait)),
        },
      );
    }
  }
}

const tastingEmptyWords = wording<{ on: string }>({
  rule: 'tasting-empty',
  severity: 'hint',
  why: 'A sitting without scores, words, orders or a measure of its samples adds nothing to any figure.',
  message: ({ on }) => `the tasting of ${on} has samples but neither scores, words nor an order`,
  advice: () => 'add `scores:` or `order:` from the score sheets',
});

export const tastingEmpty: Rule = { words: [tastingEmptyWords], check: findTastingEmpty };

function* findTastingEmpty(ledger: Ledger): Generator<Diagnostic> {
  for (const season of ledger.seasons) {
    if (!isWholeSeason(ledger, season)) continue;
    for (const { at, on, samples, scores, words, orders } of season.tastings) {
      if (samples.length === 0 || [scores, words, orders].some((all) => all.length > 0)) continue;
      if (samples.some(isMeasured)) continue;
      yield diagnose(tastingEmptyWords, spotIn(at, 'on'), { on });
    }
  }
}

function isMeasured({ brix, eye }: Sample): boolean {
  return brix !== undefined || eye !== undefined;
}

/** mm; a wide eye of a fig is some 10, so this leaves room. Common practice, no source. */
const WIDEST_EYE = 25;

const eyeUnlikelyWords = wording<{ sample: string; eye: string }>({
  rule: 'eye-unlikely',
  severity: 'warning',
  why: 'The eye of a fig is some millimetres wide. One of more than 25 mm (common practice, no source) points to a slip, or to millimetres typed without a unit in a ledger whose bare numbers are inches.',
  message: ({ sample, eye }) => `the eye of ${sample} is ${eye} wide`,
  advice: () => 'write the unit where it is another one, as `eye: "3 mm"`',
});

export const eyeUnlikely: Rule = { words: [eyeUnlikelyWords], check: findEyeUnlikely };

function* findEyeUnlikely(ledger: Ledger): Generator<Diagnostic> {
  for (const { samples } of ledger.seasons.flatMap(({ tastings }) => tastings)) {
    for (const { at, label, eye } of samples) {
      if (eye === undefined || eye <= WIDEST_EYE) continue;
      const facts = { sample: label, eye: quantityText(eye, 'width', ledger.trial.units) };
      yield diagnose(eyeUnlikelyWords, spotIn(at, 'eye'), facts);
    }
  }
}

const wordUnlistedWords = wording<{ word: string; nearest: string | undefined }>({
  rule: 'word-unlisted',
  severity: 'hint',
  why: 'Words are counted by how they are spelled, so a slip of the pen is a word of its own. A new word is welcome.',
  message: ({ word }) => `${word} is not among the words of ledger.yaml`,
  advice: ({ nearest }) =>
    nearest === undefined
      ? 'add it to words in ledger.yaml, or leave it'
      : `did you mean ${nearest}? If not, add it to words in ledger.yaml`,
});

export const wordUnlisted: Rule = { words: [wordUnlistedWords], check: findWordUnlisted };

function* findWordUnlisted(ledger: Ledger): Generator<Diagnostic> {
  const { words: listed } = ledger.trial;
  if (listed.length === 0 || !areWhole(ledger, 'ledger.yaml')) return;
  const known = new Set(listed.map(plainWord));
  for (const { words } of ledger.seasons.flatMap(({ tastings }) => tastings)) {
    for (const one of words) {
      for (const [index, word] of one.words.entries()) {
        if (known.has(plainWord(word))) continue;
        const facts = { word, nearest: didYouMean(word, listed) };
        yield diagnose(wordUnlistedWords, spotIn(one.at, index), facts);
      }
    }
  }
}
