import {
  leastScoreDifference,
  type ScoreAnova,
  scoreAnova,
} from '../../judge/scores/score-anova.ts';
import { LETTERS_ALPHA } from '../../judge/scores/score-letters.ts';
import type { ScoredBy, ScoreModel } from '../../judge/scores/score-models.ts';
import type { ScoreUnit } from '../../judge/scores/score-unit.ts';
import { groupBy } from '../../measure/group-by.ts';
import type { Ledger } from '../../model/ledger.ts';
import { note, shownNote } from '../common-notes.ts';
import { cropPhrase } from '../crop-words.ts';
import { chanceWords, decimalText } from '../number-words.ts';
import type { Note } from '../table.ts';
import { listed, sentence } from '../words.ts';

/** An F test of whether any cultivars (or trees) differ in a trait. */
interface Tested {
  readonly crop: string;
  readonly trait: string;
  readonly f: number;
  readonly p: number;
}

/** In which traits cultivars, or trees, differ at all beyond chance, crop by crop. */
export function differNote(
  ledger: Ledger,
  models: readonly ScoreModel[],
  by: ScoredBy,
): Note | undefined {
  const tested = models.flatMap((model): Tested[] => {
    const { f, p } = scoreAnova(model)?.subject ?? {};
    return f === undefined || p === undefined
      ? []
      : [{ crop: model.crop, trait: model.trait, f, p }];
  });
  const crops = [...groupBy(tested, ({ crop }) => crop)].map(([crop, own]) => {
    const apart = own.filter(({ p }) => p < LETTERS_ALPHA);
    const alike = own.filter(({ p }) => p >= LETTERS_ALPHA);
    const rest = alike.length === 0 ? '' : testedWords(alike);
    if (apart.length === 0)
      return `${cropPhrase(ledger, crop)}: ${by}s may not differ at all in ${rest}`;
    const may = rest === '' ? '' : `; in ${rest} they may not`;
    return `${cropPhrase(ledger, crop)}: ${by}s differ beyond chance in ${testedWords(apart)}${may}`;
  });
  const alike = tested.filter(({ p }) => p >= LETTERS_ALPHA);
  const briefs = [...groupBy(alike, ({ crop }) => crop)].map(
    ([crop, own]) =>
      `${cropPhrase(ledger, crop)}: ${by}s may not differ at all in ${listed(own.map(({ trait }) => trait))}`,
  );
  if (crops.length === 0) return undefined;
  const text = crops.map((words) => `${sentence(words)}.`).join(' ');
  return briefs.length === 0
    ? note('evidence', text)
    : shownNote('evidence', text, briefs.map((words) => `${sentence(words)}.`).join(' '));
}

/** "flavour (F 31.2, p below 0.001) and texture (F 3.1, p 0.034)"; one p for all if it is the same. */
function testedWords(tested: readonly Tested[]): string {
  const [shared = '', ...others] = new Set(tested.map(({ p }) => chanceWords(p)));
  const isShared = others.length === 0 && tested.length > 1;
  const each = tested.map(({ trait, f, p }) => {
    const chance = isShared ? '' : `, ${chanceWords(p)}`;
    return `${trait} (F ${decimalText(f, 1)}${chance})`;
  });
  return `${listed(each, 12)}${isShared ? `, each ${shared}` : ''}`;
}

/** The analyses of variance themselves, a note a crop and trait. */
export function anovaNotes(ledger: Ledger, models: readonly ScoreModel[], by: ScoredBy): Note[] {
  return models.flatMap((model) => {
    const anova = scoreAnova(model);
    if (anova === undefined) return [];
    const least = leastScoreDifference(model, LETTERS_ALPHA);
    const lsd =
      least === undefined
        ? ''
        : ` LSD at ${decimalText(LETTERS_ALPHA, 0, 2)} %: ${decimalText(least, 2)}.`;
    const lines = anovaLines(anova, by).join('; ');
    return note(
      'evidence',
      `Analysis of variance, ${cropPhrase(ledger, model.crop)}, ${model.trait}: ${lines}.${lsd}`,
    );
  });
}

function anovaLines(
  { sitting, taster, subject, residual, spread }: ScoreAnova,
  by: ScoredBy,
): string[] {
  const terms = [
    { what: 'sittings', term: sitting },
    ...(taster === undefined ? [] : [{ what: 'tasters', term: taster }]),
    { what: `${by}s`, term: subject },
  ];
  const lines = terms
    .filter(({ term }) => term.df > 0)
    .map(({ what, term: { ms, df, f, p } }) => {
      const test =
        f === undefined || p === undefined ? '' : `, F ${decimalText(f, 1)}, ${chanceWords(p)}`;
      return `${what} ${df} df, mean square ${decimalText(ms, 2)}${test}`;
    });
  const rest = `rest ${residual.df} df, mean square ${decimalText(residual.ms, 2)}`;
  return spread === undefined ? [...lines, rest] : [...lines, rest, heldAgainst(spread, by)];
}

function heldAgainst(
  { error, df, row, inner, outer }: NonNullable<ScoreAnova['spread']>,
  by: ScoredBy,
): string {
  const trees = by === 'tree' ? '' : `, trees ${decimalText(outer, 2)}`;
  return `${by}s are held against ${decimalText(error, 2)} on ${decimalText(df, 1)} df, made up of variances between plates ${decimalText(row, 2)}, seasons of a tree ${decimalText(inner, 2)}${trees}`;
}

const HELD_AGAINST =
  ' They are held against the variances of plates, seasons of a tree and trees, in the amounts in which these move their means (Henderson 1953, Biometrics 9:226-252; Satterthwaite 1946, Biometrics Bulletin 2:110-114); that between trees, which few second trees tell, is drawn to the share of the seasons that the model behind rank expects.';

/** How the two are had. */
export function anovaMethodNotes(by: ScoredBy, unit: ScoreUnit): Note[] {
  const terms = unit === 'plate' ? `sitting and ${by}` : `sitting, taster and ${by}`;
  return [
    `F: analysis of variance of ${unit}s by ${terms}, each free of those before it, so the last tells whether any ${by}s differ at all (Searle 1971, Linear Models, section 7.1).${unit === 'plate' ? HELD_AGAINST : ''}`,
    `LSD: the least difference that counts between two ${by}s tasted about as often as most, if that pair was chosen beforehand (Fisher 1935, The Design of Experiments). Over many pairs some will pass it by luck: the letters are the safer guide.`,
  ].map((text) => note('method', text));
}
