import { wording } from '../diagnostic.ts';

export const entryOutsideSeasonWords = wording<{
  on: string;
  season: number;
  first: string;
  last: string;
  belongs: number;
}>({
  rule: 'entry-outside-season',
  severity: 'error',
  why: 'A season file holds one growing year: January to December north of the equator, July to June south of it. An entry of another year would be counted in the wrong season.',
  message: ({ on, season, first, last }) =>
    `${on} is outside season ${season}, which runs from ${first} to ${last}`,
  advice: ({ belongs }) => `correct the date, or move the entry to seasons/${belongs}.yaml`,
});

export const frostOutsideSeasonWords = wording<{
  on: string;
  season: number;
  first: string;
  last: string;
}>({
  rule: 'frost-outside-season',
  severity: 'warning',
  why: 'The first autumn frost of a season says which fruit ripened before it. A frost of another year would put every fruit, or none, before the frost.',
  message: ({ on, season, first, last }) =>
    `the first frost of season ${season} is given as ${on}, but that season runs from ${first} to ${last}`,
  advice: () => 'correct the date or the season in front of it',
});

export const entryBeforeTreeWords = wording<{
  on: string;
  tree: string;
  since: string;
  key: 'received' | 'planted';
}>({
  rule: 'entry-before-tree',
  severity: 'error',
  why: 'Nothing can be seen on a tree before it came. The date of the entry, the tree or the date in trees.yaml is wrong.',
  message: ({ on, tree, since, key }) =>
    `${on} is before tree ${tree} was ${key} (${since} in trees.yaml)`,
  advice: ({ key }) => `correct the date or the tree here, or \`${key}\` in trees.yaml`,
});

export const entryAfterRemovalWords = wording<{ on: string; tree: string; removed: string }>({
  rule: 'entry-after-removal',
  severity: 'error',
  why: 'Nothing can be seen on a tree after it was taken out. Fruit keeps, so a tasting is questioned only when the tree was gone before the season began.',
  message: ({ on, tree, removed }) =>
    `${on} is after tree ${tree} was removed (${removed} in trees.yaml)`,
  advice: () => 'correct the date or the tree here, or `removed` in trees.yaml',
});

export const treeDatesCrossedWords = wording<{
  tree: string;
  key: string;
  date: string;
  beforeKey: string;
  beforeDate: string;
}>({
  rule: 'tree-dates-crossed',
  severity: 'error',
  why: 'A tree is received, then planted, then perhaps removed. Dates in another order put its entries before or after its life.',
  message: ({ tree, key, date, beforeKey, beforeDate }) =>
    `tree ${tree} is ${key} ${date}, before it was ${beforeKey} (${beforeDate})`,
  advice: ({ key, beforeKey }) => `correct \`${key}\` or \`${beforeKey}\``,
});
