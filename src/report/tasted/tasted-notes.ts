import { tastedScores } from '../../judge/scores/tasted-scores.ts';
import type { Selection } from '../../measure/selection.ts';
import { RIPENESS, type Ripeness, type Tasting } from '../../model/entries.ts';
import type { Crop, Ledger } from '../../model/ledger.ts';
import { note, shownNote } from '../common-notes.ts';
import type { Note } from '../table.ts';
import { counted, listed } from '../words.ts';

const WORDS: Readonly<Record<Ripeness, string>> = {
  under: 'under-ripe',
  ripe: 'ripe',
  over: 'over-ripe',
};

/** "ripe", "ripe and over-ripe". */
export function ripenessWords(ripeness: readonly Ripeness[]): string {
  return listed(RIPENESS.filter((one) => ripeness.includes(one)).map((one) => WORDS[one]));
}

/** Which fruit a table of what was tasted is about, and how many plates are left out of it. */
export function ripenessNote(
  ledger: Ledger,
  selection: Selection,
  ripeness: readonly Ripeness[],
): Note {
  const plates = new Set(
    tastedScores(ledger, { ...selection, ripeness: RIPENESS }).map(({ score }) => score.sample),
  );
  const all = [...plates];
  const out = all.filter((sample) => !ripeness.includes(sample.ripeness ?? 'ripe')).length;
  const silent = ripeness.includes('ripe')
    ? all.filter((sample) => sample.ripeness === undefined).length
    : 0;
  const parts = [
    `Fruit tasted ${ripenessWords(ripeness)}${out > 0 ? `; ${counted(out, 'other plate is', 'other plates are')} left out (see --ripeness)` : ''}.`,
    silent > 0
      ? `${counted(silent, 'plate does', 'plates do')} not say how ripe, and ${silent === 1 ? 'counts' : 'count'} as ripe.`
      : '',
  ];
  const text = parts.filter((part) => part !== '').join(' ');
  return out > 0 || silent > 0 ? shownNote('evidence', text) : note('evidence', text);
}

/** Sittings at which both crops were on the table. */
export function mixedSittingsNote(ledger: Ledger, selection: Selection): Note | undefined {
  const both = new Map<Tasting, Set<Crop>>();
  for (const { score, tasting } of tastedScores(ledger, selection)) {
    const crops = both.get(tasting) ?? new Set();
    both.set(tasting, crops.add(score.sample.crop));
  }
  const mixed = [...both].filter(([, crops]) => crops.size > 1).map(([{ on }]) => on);
  return mixed.length === 0
    ? undefined
    : note(
        'evidence',
        `Both crops were on the table on ${listed(mixed, 3)}: each crop is judged by itself.`,
      );
}

/** Why a table of what was tasted has no rows. */
export function nothingTastedNote(ledger: Ledger, what: string): Note {
  const tasted = ledger.seasons.some(({ tastings }) => tastings.length > 0);
  return shownNote(
    'evidence',
    tasted
      ? `No ${what} in this selection.`
      : 'The ledger has no tastings yet: type one with pomary enter, or plan one with pomary lineup.',
  );
}
