import type { Cultivar } from '../model/collection.ts';
import type { Ripeness, TasteWords, Tasting } from '../model/entries.ts';
import { CROPS, type Crop, type Ledger } from '../model/ledger.ts';
import { plainWord } from '../model/plain-word.ts';
import { siteOn } from '../model/standing.ts';
import { groupBy } from './group-by.ts';
import { allows, type Selection } from './selection.ts';

/** A word that tasters used of a crop of a cultivar. */
export interface WordFigures {
  /** As the ledger lists it, or else as it was most often written. */
  readonly word: string;
  /** Tastings in which it was said; see `CropWords`. */
  readonly times: number;
  /** Tasters who said it. */
  readonly tasters: number;
  /** Sittings at which it was said. */
  readonly sittings: number;
  /** times / tastings of `CropWords`, 0 to 1. */
  readonly share: number;
}

/** What tasters said a crop of a cultivar tastes of. */
export interface CropWords {
  readonly cultivar: Cultivar;
  readonly crop: Crop;
  /** One taster before one plate, who had a word for it: silence says nothing against a word. */
  readonly tastings: number;
  readonly seasons: readonly number[];
  /** Most often said first, then by how many tasters, then by the letters. */
  readonly words: readonly WordFigures[];
}

export interface WordSelection extends Selection {
  /** Only fruit tasted ripe if left out; a sample that does not say counts as ripe. */
  readonly ripeness?: readonly Ripeness[] | undefined;
}

interface Heard extends TasteWords {
  readonly tasting: Tasting;
}

/** The words of a selection, by cultivar in the order of keys, the early crop first. */
export function tasteWords(ledger: Ledger, selection: WordSelection): readonly CropWords[] {
  const byCultivar = groupBy(heard(ledger, selection), ({ sample }) => sample.tree.cultivar.key);
  return [...ledger.cultivars.values()].flatMap((cultivar) => {
    const own = byCultivar.get(cultivar.key) ?? [];
    return CROPS.flatMap((crop): CropWords[] => {
      const all = own.filter(({ sample }) => sample.crop === crop);
      if (all.length === 0) return [];
      return [
        {
          cultivar,
          crop,
          tastings: all.length,
          seasons: [...new Set(all.map(({ tasting }) => tasting.season))],
          words: figuresOf(ledger, all),
        },
      ];
    });
  });
}

function heard(ledger: Ledger, selection: WordSelection): readonly Heard[] {
  const { ripeness = ['ripe'] } = selection;
  return ledger.seasons
    .filter(({ year }) => allows(selection.seasons, year))
    .flatMap(({ tastings }) => tastings)
    .flatMap((tasting) => tasting.words.map((one) => ({ ...one, tasting })))
    .filter(({ sample, tasting }) => {
      const { tree, crop } = sample;
      return (
        ripeness.includes(sample.ripeness ?? 'ripe') &&
        allows(selection.crops, crop) &&
        allows(selection.trees, tree.id) &&
        allows(selection.cultivars, tree.cultivar.key) &&
        allows(selection.sites, siteOn(ledger, tree, tasting.on))
      );
    });
}

function figuresOf(ledger: Ledger, all: readonly Heard[]): readonly WordFigures[] {
  const listed = new Map(ledger.trial.words.map((word) => [plainWord(word), word]));
  const uses = all.flatMap((one) => one.words.map((written) => ({ ...one, written })));
  const figures = [...groupBy(uses, ({ written }) => plainWord(written))].map(([plain, own]) => {
    // Said twice of one plate by one taster, it was still said once.
    const times = new Set(own.map(({ at }) => at)).size;
    return {
      word: listed.get(plain) ?? commonest(own.map(({ written }) => written)),
      times,
      tasters: new Set(own.map(({ taster }) => taster)).size,
      sittings: new Set(own.map(({ tasting }) => tasting)).size,
      share: times / all.length,
    };
  });
  return figures.sort(
    (a, b) => b.times - a.times || b.tasters - a.tasters || (a.word < b.word ? -1 : 1),
  );
}

/** The spelling that most have; of equals the one without capitals. */
function commonest(spellings: readonly string[]): string {
  const counts = [...groupBy(spellings, (one) => one.trim().replaceAll(/\s+/g, ' '))];
  const [first] = counts.sort(
    ([a, as], [b, bs]) => bs.length - as.length || (a > b ? -1 : a < b ? 1 : 0),
  );
  return first?.[0] ?? '';
}
