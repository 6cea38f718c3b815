import { tastedScores } from '../judge/tasted-scores.ts';
import type { Selection } from '../measure/selection.ts';
import type { Ripeness, Tasting } from '../model/entries.ts';
import type { Crop, Ledger } from '../model/ledger.ts';
import { note } from './common-notes.ts';
import { cultivarName, siteName } from './names.ts';
import type { Note } from './table.ts';
import { counted, listed, yearsInWords } from './words.ts';

const WORDS: Readonly<Record<Ripeness, string>> = {
  under: 'under-ripe',
  ripe: 'ripe',
  over: 'over-ripe',
};

/** "ripe", "ripe and over-ripe". */
export function ripenessWords(ripeness: readonly Ripeness[]): string {
  return listed(
    (['under', 'ripe', 'over'] as const)
      .filter((one) => ripeness.includes(one))
      .map((one) => WORDS[one]),
  );
}

/** Which fruit a table of what was tasted is about, and how many plates are left out of it. */
export function ripenessNote(
  ledger: Ledger,
  selection: Selection,
  ripeness: readonly Ripeness[],
): Note {
  const plates = new Set(
    tastedScores(ledger, { ...selection, ripeness: ['under', 'ripe', 'over'] }).map(
      ({ score }) => score.sample,
    ),
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
  return note('evidence', parts.filter((part) => part !== '').join(' '));
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
  return note(
    'evidence',
    tasted
      ? `No ${what} in this selection.`
      : 'The ledger has no tastings yet: add a sitting under tastings: in a season file.',
  );
}

/** What of the ledger a table is about, as its title ends. */
export function selectedWords(
  ledger: Ledger,
  selection: Selection,
  seasons: readonly number[],
): string {
  const cultivars = (selection.cultivars ?? []).map((key) => {
    const cultivar = ledger.cultivars.get(key);
    return cultivar === undefined ? key : cultivarName(ledger, cultivar);
  });
  const crops = selection.crops ?? [];
  const parts = [
    yearsInWords(selection.seasons?.length ? selection.seasons : seasons),
    crops.length === 1 ? `${crops.join()} crop` : '',
    listed((selection.sites ?? []).map((key) => siteName(ledger, key))),
    listed(cultivars),
    selection.trees?.length ? `tree ${listed(selection.trees)}` : '',
  ];
  return parts.filter((part) => part !== '').join(', ');
}
