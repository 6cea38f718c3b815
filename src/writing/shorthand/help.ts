import { CATALOGUE } from '../../entries/catalogue.ts';
import { EVENTS } from '../../entries/event-kinds.ts';
import type { Kind, LineHelp } from '../../entries/kind.ts';
import { DEFECTS } from '../../model/entries.ts';

const { move, spray, ...otherEvents } = EVENTS;

/** Every kind of line, for the help and the manual. */
export const SHORTHAND: readonly LineHelp[] = [
  {
    pattern: 'on DATE',
    example: 'on 24 Jul',
    meaning:
      'the date of what follows, on this line and the next: 2026-07-24, 24 Jul, 24.7., 24/7, today, yesterday, Saturday, 3 days ago; alone on a line, a date with a word or a year in it needs no on',
  },
  {
    pattern: 'TREE CROP WEIGHT...',
    example: 'G3 early 52.4 47 61.3 split 1',
    meaning:
      'a pick, which is what a line is that begins with a tree, unless count, taste or the like stands behind it; 1 split says the same',
  },
  {
    pattern: 'pick TREE CROP WEIGHT...',
    example: 'pick G3 early 52.4 47 61.3 split 1',
    meaning: `fruit weighed one by one; ${DEFECTS.join(', ')} and a number say how many were spoiled`,
  },
  {
    pattern: 'pick TREE CROP fruit N weight WEIGHT',
    example: 'pick G3 early fruit 11 weight 580 bird 2 note wet week',
    meaning:
      'fruit weighed together; sample all, random or best says which fruit were weighed singly',
  },
  {
    pattern: 'WEIGHT...',
    example: '55.1 49.8',
    meaning: 'more weights for the pick of the line before',
  },
  {
    pattern: 'count TREE CROP N on N',
    example: 'count G3 early 21 on 8',
    meaning:
      'fruit that hang on so many branches, before anything is picked that day; 21/8 says the same; count may be left out',
  },
  {
    pattern: 'drop TREE CROP N',
    example: 'drop G3 early 2',
    meaning: 'fruit lost before picking',
  },
  {
    pattern: 'taste PLATE CROP: TASTER N N N, TASTER N N N',
    example: 'taste G3 early: mara 8 9 7.5, joss 7 - 6 words melon',
    meaning:
      'marks in the order of the traits of ledger.yaml, - for none; a plate goes by its tree, its cultivar, or the code it was served under',
  },
  {
    pattern: 'taste TREE CROP TASTER TRAIT N...',
    example: 'taste G3 early mara sweetness 8 flavour 9 ripe brix 19.5 eye 3',
    meaning:
      'the same with the traits named, the first letters will do; under, ripe or over, brix, eye and as (a blind code) are of the plate',
  },
  {
    pattern: 'taste TREE CROP TASTER words WORD...',
    example: 'taste G3 early mara words melon fresh',
    meaning: 'what the taster says it tastes of; a phrase in quotes, or all of them between commas',
  },
  {
    pattern: 'order CROP TASTER TREE > TREE = TREE',
    example: 'order early mara G3 > Y1 = P2 > P4',
    meaning: 'best first; = between fruit that are as good as each other',
  },
  ...Object.values<Kind>(CATALOGUE).flatMap(({ lines = [] }) => lines),
  ...[move, spray, ...Object.values(otherEvents)].map(({ line }) => line),
  {
    pattern: 'remove TREE',
    example: 'remove G3',
    meaning: 'the tree is there no longer from that day: it died, was taken out or given away',
  },
  {
    pattern: 'cultivar NAME bears HOW',
    example: 'cultivar "Paper Lamp" bears unknown also Lampe',
    meaning:
      'a new cultivar; also other names, between commas; perhaps and another cultivar for a doubt, why and the reason',
  },
  {
    pattern: 'tree ID CULTIVAR',
    example: 'tree A2 "Amber Lantern" at yard planted 2021 in 20 L from swap table as "Lantern?"',
    meaning:
      'a new tree: at its site, in its pot or the ground, as its label says; also received, rootstock, removed',
  },
  {
    pattern: 'taster KEY NAME',
    example: 'taster ann Ann',
    meaning: 'a new taster; what is typed, and what tables print',
  },
  {
    pattern: 'site KEY NAME COVER',
    example: 'site plot "far plot" open',
    meaning: 'a new site: open, tunnel, glass or indoors',
  },
  {
    pattern: 'dates ORDER',
    example: 'dates day-first',
    meaning: 'which comes first in 12/9, day-first or month-first; kept in ledger.yaml',
  },
];

const NOTES = [
  'Trees go by their id, in any case, or by the key or a name of a cultivar that has one tree.',
  'A name of several words needs quotes only where it may be taken for something else.',
  'A crop may be left out where only one can be meant.',
  'A line of what was seen, of a cultivar or of a tree may end with note and a text, which runs to the end of the line; # begins a comment.',
  "Numbers are in the ledger's units, or carry their own: 2.1oz, 30 L. 52,4 is 52.4;",
  'where a comma may part two numbers, as in 52,47, you are asked, unless ledger.yaml',
  'has decimal: comma.',
];

/** The whole grammar as text. */
export function shorthandHelp(): string {
  const lines = SHORTHAND.flatMap(({ pattern, example, meaning }) => [
    pattern,
    `    ${example}`,
    `    ${meaning}`,
  ]);
  return `${[...lines, '', ...NOTES].join('\n')}\n`;
}
