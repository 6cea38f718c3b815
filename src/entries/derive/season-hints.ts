import { CATALOGUE } from '../catalogue.ts';
import type { Fields } from '../field.ts';

/** What an editor says of each key of a season file, by its path of keys. */
export const SEASON_HINTS: Readonly<Record<string, string>> = {
  season: 'The year of this file. South of the equator a season is named by the year it ends in.',
  note: 'Of the season as a whole.',
  ...Object.fromEntries(
    Object.values(CATALOGUE).flatMap(({ section, hint, fields }) => [
      [section, hint],
      ...hintsOf(section, fields),
    ]),
  ),
};

function hintsOf(place: string, fields: Fields): readonly (readonly [string, string])[] {
  return Object.entries(fields).flatMap(([key, { hint, inside = {} }]) => [
    [`${place}.${key}`, hint],
    ...Object.entries(inside).map(([path, below]): readonly [string, string] => [
      `${place}.${key}.${path}`,
      below,
    ]),
  ]);
}
