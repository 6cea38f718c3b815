import { CATALOGUE } from '../catalogue.ts';
import { cultivar } from '../cultivar.ts';
import type { Fields } from '../field.ts';
import { hintsOf } from '../kind.ts';
import { tree } from '../tree.ts';
import { trial } from '../trial.ts';

/**
 * What an editor says of each key of a kind of file while someone types, by its path of keys; `*`
 * stands for any key of a map that the grower chooses.
 */
export const HINTS = {
  ledger: hintsOf(trial.fields),
  cultivars: below('*', cultivar),
  trees: below('*', tree),
  season: {
    season: 'The year of this file. South of the equator a season is named by the year it ends in.',
    note: 'Of the season as a whole.',
    ...Object.assign({}, ...Object.values(CATALOGUE).map((kind) => below(kind.section, kind))),
  },
} satisfies Record<string, Readonly<Record<string, string>>>;

/** The hint of a kind at the place where it stands, and those of its fields below. */
function below(
  place: string,
  { hint, fields }: { readonly hint: string; readonly fields: Fields },
): Readonly<Record<string, string>> {
  const inside = Object.entries(hintsOf(fields)).map(([path, one]) => [`${place}.${path}`, one]);
  return { [place]: hint, ...Object.fromEntries(inside) };
}
