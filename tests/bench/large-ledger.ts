import { type SeededRandom, seededRandom } from '../../src/stats/random/seeded-random.ts';
import { sittingLines } from './large-tastings.ts';
import { type MadeTree, madeCultivars, madeTrees } from './large-trees.ts';

/** How much is in a made ledger; entries are those of one season. */
export interface LedgerSize {
  readonly seasons: number;
  readonly cultivars: number;
  readonly trees: number;
  readonly picks: number;
  readonly counts: number;
  readonly tastings: number;
}

export const LARGE: LedgerSize = {
  seasons: 10,
  cultivars: 100,
  trees: 300,
  picks: 2000,
  counts: 400,
  tastings: 40,
};

/** The same number of seasons with so many times the cultivars, trees and entries. */
export function timesLarge(factor: number): LedgerSize {
  const times = (count: number) => Math.round(count * factor);
  return {
    seasons: LARGE.seasons,
    cultivars: times(LARGE.cultivars),
    trees: times(LARGE.trees),
    picks: times(LARGE.picks),
    counts: times(LARGE.counts),
    tastings: times(LARGE.tastings),
  };
}

const FIRST_SEASON = 2017;

/**
 * A ledger without errors, made up from a seed: text by path. Every tree bears a main crop, and as many as there are
 * counts left for an early one too; each crop of a tree is counted once and picked on several days.
 */
export function largeLedger(size: LedgerSize, seed: number): ReadonlyMap<string, string> {
  const random = seededRandom(seed);
  const cultivars = madeCultivars(size.cultivars, random);
  const trees = madeTrees(size.trees, cultivars, random);
  const years = Array.from({ length: size.seasons }, (_, at) => FIRST_SEASON + at);
  return new Map([
    ['ledger.yaml', trialText(years)],
    ['cultivars.yaml', cultivars.map(({ lines }) => lines).join('')],
    ['trees.yaml', trees.map(({ lines }) => lines).join('')],
    ...years.map(
      (year) => [`seasons/${year}.yaml`, seasonText(size, year, trees, random)] as const,
    ),
    ...years.map((year) => [`weather/${year}.csv`, weatherText(year, random)] as const),
  ]);
}

function trialText(years: readonly number[]): string {
  const frosts = years.map((year, at) => `${year}: ${year}-11-${two(1 + ((at * 7) % 20))}`);
  return `title: Tidewrack Lane, a large trial
place: { name: Tidewrack Lane, climate: cool maritime, latitude: 52.1 }
fruit: fig
units: metric
pollinator: absent
crops: { early: breba, main: main }
scale: { low: 1, high: 10 }
traits: [sweetness, flavour, texture]
tasters: { mara: Mara, joss: Joss, odo: Odo, wren: Wren }
sites:
  glass: { name: glasshouse, cover: glass }
  yard: { name: south wall, cover: open }
  plot: { name: far plot, cover: open }
frost: { ${frosts.join(', ')} }
degree_days: { base: 10, upper: 36, method: mean }
rank:
  weights: { flavour: 3, sweetness: 2, productivity: 2, size: 1, soundness: 2 }
  bands:
    productivity: [[0, 1], [4, 10]]
    size: [[20, 1], [80, 10]]
    soundness: [[0.5, 1], [1, 10]]
verdict: { min_seasons: 3, min_tastings: 4, increase_above: 6.5, discard_below: 5.5 }
`;
}

interface Line {
  readonly day: number;
  readonly text: string;
}

function seasonText(
  size: LedgerSize,
  year: number,
  trees: readonly MadeTree[],
  random: SeededRandom,
): string {
  const counts: Line[] = [];
  const picks: Line[] = [];
  const early = Math.max(0, size.counts - size.trees);
  const earlyPicks = 3 * early;
  const mainPicks = size.picks - earlyPicks;
  trees.forEach((tree, at) => {
    if (at < early) addCrop(tree, 'early', 3);
    // The remainder goes to the first trees, a pick each.
    const own = Math.floor(mainPicks / trees.length) + (at < mainPicks % trees.length ? 1 : 0);
    addCrop(tree, 'main', own);
  });

  function addCrop(tree: MadeTree, crop: 'early' | 'main', pickings: number): void {
    const start = dayNumber(crop === 'early' ? 7 : 8, 5) + tree.cultivar.late;
    const branches = tree.branches + (year - FIRST_SEASON);
    let load = 0;
    for (let k = 0; k < pickings; k++) {
      const fruit = 1 + random.integer(Math.max(2, Math.round((2 * branches) / pickings)));
      load += fruit;
      const day = start + 4 * k + random.integer(4);
      picks.push({ day, text: pickLine(tree, crop, dateOf(year, day), fruit, random) });
    }
    const day = start - 6 - random.integer(10);
    const where = `on: ${dateOf(year, day)}, tree: ${tree.id}, crop: ${crop}`;
    const hanging = load + random.integer(4);
    counts.push({ day, text: `{ ${where}, fruit: ${hanging}, branches: ${branches} }` });
  }

  const inOrder = (lines: readonly Line[]) =>
    lines
      .toSorted((a, b) => a.day - b.day)
      .map(({ text }) => `  - ${text}\n`)
      .join('');
  const tastings = sittingLines(size.tastings, trees, random, (k) =>
    dateOf(year, dayNumber(8, 8) + Math.floor((60 * k) / size.tastings)),
  );
  return [
    `season: ${year}\n`,
    `counts:\n${inOrder(counts)}`,
    `picks:\n${inOrder(picks)}`,
    `tastings:\n${tastings}`,
  ].join('\n');
}

function pickLine(
  tree: MadeTree,
  crop: string,
  date: string,
  fruit: number,
  random: SeededRandom,
): string {
  const weight = () =>
    (tree.cultivar.weight * Math.exp(0.05 * tree.quirk + 0.14 * random.normal())).toFixed(1);
  const weighed = Array.from({ length: Math.min(fruit, 6) }, weight);
  const whole = fruit > 6 && random.uniform() < 0.5;
  const amount = whole
    ? `fruit: ${fruit}, weight: ${(fruit * Number(weight())).toFixed(0)}`
    : `${fruit > weighed.length ? `fruit: ${fruit}, ` : ''}weights: [${weighed.join(', ')}]`;
  let sound = fruit;
  const spoiled = ['split', 'bird', 'insect'].flatMap((defect) => {
    let lost = 0;
    for (let k = sound; k > 0; k--) if (random.uniform() < tree.cultivar.spoils) lost++;
    sound -= lost;
    return lost > 0 ? [`, ${defect}: ${lost}`] : [];
  });
  const note = random.uniform() < 0.05 ? ', note: after two wet days' : '';
  return `{ on: ${date}, tree: ${tree.id}, crop: ${crop}, ${amount}${spoiled.join('')}${note} }`;
}

function weatherText(year: number, random: SeededRandom): string {
  const days = (Date.UTC(year + 1, 0, 1) - Date.UTC(year, 0, 1)) / DAY;
  const lines = Array.from({ length: days }, (_, day) => {
    const middle = 11 - 7 * Math.cos((2 * Math.PI * (day - 20)) / 365) + 2 * random.normal();
    const rain = random.uniform() < 0.45 ? 6 * random.uniform() : 0;
    return `${dateOf(year, day)},${(middle - 4).toFixed(1)},${(middle + 4).toFixed(1)},${rain.toFixed(1)}\n`;
  });
  return `date,tmin,tmax,rain\n${lines.join('')}`;
}

const DAY = 86_400_000;

/** Days from 1 January of a common year. */
function dayNumber(month: number, day: number): number {
  return (Date.UTC(2025, month - 1, day) - Date.UTC(2025, 0, 1)) / DAY;
}

function dateOf(year: number, day: number): string {
  return new Date(Date.UTC(year, 0, 1) + day * DAY).toISOString().slice(0, 10);
}

function two(n: number): string {
  return String(n).padStart(2, '0');
}
