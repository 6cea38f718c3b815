import type { Day } from '../../judge/day.ts';
import { fruitLeft } from '../../judge/lineup/fruit-left.ts';
import { total } from '../../measure/total.ts';
import type { Tree } from '../../model/collection.ts';
import { daysBetween } from '../../model/dates.ts';
import { CROPS, type Crop, type Ledger } from '../../model/ledger.ts';
import { mayStandOn } from '../../model/standing.ts';
import { cropHeading } from '../crop-words.ts';
import type { Fact, Section } from '../document.ts';
import { cultivarName } from '../names.ts';
import { counted, listed } from '../words.ts';

/** Fruit last counted or picked longer ago than this has gone some other way; common practice, no source. */
const LONG_AGO = 45;
const MOST_TREES = 6;

interface Hanging {
  readonly tree: Tree;
  readonly crop: Crop;
  readonly left: number;
}

/** What the trees that were not picked or tasted still bear, by the counts. */
export function hangingSection(ledger: Ledger, day: Day): readonly Section[] {
  const season = ledger.seasons.find(({ year }) => year === day.season);
  const seen = new Set(
    day.crops.flatMap(({ crop, plates }) => plates.map(({ tree }) => `${crop} ${tree.id}`)),
  );
  const isFresh = (tree: Tree, crop: Crop) =>
    [...(season?.counts ?? []), ...(season?.picks ?? [])].some(
      (entry) =>
        entry.tree === tree &&
        entry.crop === crop &&
        entry.on <= day.on &&
        daysBetween(entry.on, day.on) <= LONG_AGO,
    );
  const hanging = CROPS.flatMap((crop) =>
    ledger.walk.flatMap((tree): Hanging[] => {
      if (!mayStandOn(tree, day.on)) return [];
      const left = fruitLeft(season, tree, crop, day.on) ?? 0;
      return left > 0 && !seen.has(`${crop} ${tree.id}`) && isFresh(tree, crop)
        ? [{ tree, crop, left }]
        : [];
    }),
  ).toSorted((a, b) => b.left - a.left);
  if (hanging.length === 0) return [];
  const facts = CROPS.flatMap((crop): Fact[] => {
    const own = hanging.filter((one) => one.crop === crop);
    if (own.length === 0) return [];
    const named = own
      .slice(0, MOST_TREES)
      .map(({ tree, left }) => `${left} on ${tree.id} (${cultivarName(ledger, tree.cultivar)})`);
    const rest = own.slice(MOST_TREES);
    const more =
      rest.length === 0
        ? []
        : [`${total(rest, ({ left }) => left)} on ${counted(rest.length, 'other tree')}`];
    return [{ label: cropHeading(ledger, crop), text: `about ${listed([...named, ...more], 12)}` }];
  });
  return [
    {
      key: 'hanging',
      heading: 'Still hanging elsewhere, by the counts',
      blocks: [{ kind: 'facts', facts }],
      says: hanging.map(({ tree, crop, left }) => ({
        tree: tree.id,
        cultivar: cultivarName(ledger, tree.cultivar),
        crop,
        left,
      })),
    },
  ];
}
