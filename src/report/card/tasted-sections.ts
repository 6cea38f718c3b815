import { plainScores, type TastedScore, tastedScores } from '../../judge/scores/tasted-scores.ts';
import { groupBy } from '../../measure/group-by.ts';
import type { Selection } from '../../measure/selection.ts';
import { type CropWords, tasteWords } from '../../measure/taste-words.ts';
import { CROPS, type Ledger } from '../../model/ledger.ts';
import { cell, countColumn, numberColumn, textColumn } from '../columns.ts';
import { cropHeading, withCropWords } from '../crop-words.ts';
import { factsSection, type Section, tableSection } from '../document.ts';
import { forPeople } from '../row-columns.ts';
import type { Row } from '../table.ts';
import { sentence, yearsInWords } from '../words.ts';

/** Plain means of what was tasted ripe, trait by trait, for each crop and season. */
export function scoresSection(ledger: Ledger, selection: Selection): Section {
  const byCrop = groupBy(tastedScores(ledger, selection), ({ score }) => score.sample.crop);
  const rows = CROPS.flatMap((crop) => {
    const own = byCrop.get(crop) ?? [];
    const single = [...groupBy(own, ({ tasting }) => tasting.season).values()];
    return (single.length > 1 ? [...single, own] : single).map((some) => toRow(ledger, some));
  });
  const columns = [
    textColumn('crop', { label: 'Crop', drop: 0 }),
    textColumn('season', { label: 'Season', drop: 0 }),
    ...ledger.trial.traits.map((trait) =>
      numberColumn(trait, 1, { label: sentence(trait), drop: 0 }),
    ),
    countColumn('sittings', { label: 'Sittings', drop: 1 }),
    countColumn('tasters', { label: 'Tasters', drop: 3 }),
    countColumn('scores', { label: 'Scores', drop: 4 }),
    numberColumn('brix', 1, { label: 'Brix', drop: 5 }),
    numberColumn('eye', 1, { label: 'Eye', unit: 'mm', drop: 6 }),
  ];
  return tableSection({
    key: 'scores',
    heading: `How it tasted, ${ledger.trial.scale.low} to ${ledger.trial.scale.high}`,
    table: { columns: withCropWords(ledger, {}, forPeople(columns, rows, ['season'])), rows },
    ifEmpty: 'Not tasted ripe.',
  });
}

function toRow(ledger: Ledger, tasted: readonly TastedScore[]): Row {
  const { traits } = ledger.trial;
  const means = plainScores(
    traits,
    tasted.map(({ score }) => score),
  );
  return {
    crop: tasted[0]?.score.sample.crop ?? null,
    season: yearsInWords(
      tasted.map(({ tasting }) => tasting.season),
      '-',
    ),
    ...Object.fromEntries(traits.map((trait) => [trait, cell(means.traits.get(trait))])),
    sittings: new Set(tasted.map(({ tasting }) => tasting)).size,
    tasters: means.tasters,
    scores: means.scores,
    brix: cell(means.brix),
    eye: cell(means.eye),
  };
}

/** What tasters say it tastes of, crop by crop; absent where nobody had a word for it. */
export function wordsSection(ledger: Ledger, selection: Selection): Section | undefined {
  const told = tasteWords(ledger, selection);
  if (told.length === 0) return undefined;
  return factsSection({
    key: 'words',
    heading: 'What it tastes of',
    facts: told.map((one) => ({
      label: cropHeading(ledger, one.crop),
      text: tasteWordsInShort(one, 8),
    })),
    says: told.map(({ crop, tastings, words }) => ({
      crop,
      tastings,
      words: words.map((figures) => ({ ...figures })),
    })),
  });
}

/**
 * What a crop of a cultivar tastes of, in a few words: "melon (5 of 8 descriptions), fresh": one taster's
 * words for one plate are a description, since a tasting is a sitting elsewhere on the page. A word that
 * was said once tells little beside one that was said often, and is left out there.
 *
 * @param most words at most
 */
export function tasteWordsInShort({ words, tastings }: CropWords, most: number): string {
  const [first] = words;
  if (first === undefined) return '';
  const telling = words.filter(({ times }) => first.times < 3 || times > 1).slice(0, most);
  return telling
    .map(({ word, times }, place) =>
      place === 0 && times > 1 ? `${word} (${times} of ${tastings} descriptions)` : word,
    )
    .join(', ');
}
