import { EVENT_WORDS } from '../entries/event.ts';
import { eitherOf } from '../entries/values.ts';
import { isFig } from '../model/bearing.ts';
import { growingYear } from '../model/dates.ts';
import { DEFECTS } from '../model/entries.ts';
import { editorLine } from './schema-files.ts';

export interface StarterFile {
  /** Relative to the ledger's folder. */
  readonly path: string;
  readonly text: string;
}

/** Lines end alike on every machine, so that git shows what was typed and nothing else. */
const ATTRIBUTES = `# Line ends are the same on every machine, so that a change shows as what was typed.
* text=auto eol=lf
`;

/** Files whose two versions git hands to `pomary merge`, where it has been told that there is one. */
export const MERGED_FILES = `# Entries of two people are joined one by one, once git knows how: pomary merge --setup
ledger.yaml merge=pomary
cultivars.yaml merge=pomary
trees.yaml merge=pomary
seasons/*.yaml merge=pomary
`;

/** What lies in the folder only while something is being typed or written. */
const IGNORED = `# Lines typed with pomary enter and not yet written, and files of a write under way.
.pomary-draft*
.*.lock
.*.tmp
`;

/**
 * The files of a new ledger. They can be read at once, hold no entry, and teach by examples in
 * comments that are right as they stand.
 */
export function starterFiles(starter: Starter): readonly StarterFile[] {
  return [
    { path: 'ledger.yaml', text: starterTrial(starter) },
    { path: 'cultivars.yaml', text: starterCultivars(starter) },
    { path: 'trees.yaml', text: starterTrees() },
    { path: `seasons/${starter.season}.yaml`, text: starterSeason(starter) },
    { path: '.gitattributes', text: `${ATTRIBUTES}\n${MERGED_FILES}` },
    { path: '.gitignore', text: IGNORED },
  ];
}

/** What is known of a ledger before its first entry. */
interface Starter {
  readonly title: string;
  readonly fruit: string;
  readonly place: string | undefined;
  /** Degrees north; negative in the south. */
  readonly latitude: number | undefined;
  readonly units: 'metric' | 'imperial' | undefined;
  /** The season that today lies in. */
  readonly season: number;
}

/** `cultivars.yaml` of a new ledger. */
function starterCultivars({ fruit }: Starter): string {
  const isOfFigs = isFig(fruit);
  const bears = isOfFigs ? 'common' : 'main';
  const kinds = isOfFigs
    ? `# bears says how its fruit set: common (both crops without a pollinator), san-pedro (only the early
# crop without one), smyrna (none without one) or caprifig; unknown where you do not know.`
    : '# bears says which crops it has: early, main or both; unknown where you do not know.';
  return `${editorLine('cultivars')}
# What is being compared: one entry a cultivar, under a short key of your own that never changes.
# Write the name as you received it, doubts and all: a name can be put right later, a lost one not.
${kinds}
#
# amber-lantern: { name: Amber Lantern, bears: ${bears}, also: [Lantern Yellow] }
# old-wall-brown:
#   name: Old Wall Brown
#   bears: ${bears}
#   perhaps: { same_as: amber-lantern, why: same leaf and a week later }
#   protected: false
#   note: From the wall behind the chapel, which is gone.
`;
}

/** `trees.yaml` of a new ledger. */
function starterTrees(): string {
  return `${editorLine('trees')}
# Every tree, under the id on its label. It keeps the id for life; when it moves, enter the move
# under events in the season. Dates may be a day, a month or a year.
#
# T1:
#   cultivar: amber-lantern
#   received_as: Lantern, yellow
#   from: swap table, Harrow's End
#   received: 2021-10
#   planted: 2022-04-16
#   site: garden
#   container: ground
# T2: { cultivar: old-wall-brown, planted: 2023, site: garden, container: "20 L" }
`;
}

/** `seasons/YEAR.yaml` of a new ledger. */
function starterSeason({ season, latitude, fruit, units }: Starter): string {
  const measures = units === 'imperial' ? IMPERIAL : METRIC;
  const south = latitude !== undefined && latitude < 0;
  // Half a year apart, and all in the calendar year that the season is named by.
  const [march, july] = south ? ['01', '02'] : ['03', '07'];
  const on = (month: string | undefined, day: string) => `${season}-${month}-${day}`;
  const crop = isFig(fruit) ? 'early' : 'main';
  const { first, last } = growingYear(season, latitude);
  return `${editorLine('season')}
# What was seen from ${first} to ${last}: one line an entry, oldest first in its section.
# Any entry may have  note: ...  and  photo: photos/t1.jpg  (a path inside this folder).

season: ${season}

# What hangs on a tree that day, before anything is picked that day. Count branches once a year.
counts:
  # - { on: ${on(july, '02')}, tree: T1, crop: ${crop}, fruit: 21, branches: 8 }
  # - { on: ${on(july, '02')}, tree: T2, crop: ${crop}, fruit: 0, branches: 5 }

# Fruit weighed one by one, or a number and the weight of all. A spoiled fruit counts once, under
# the worst that is wrong with it: ${eitherOf(DEFECTS)}.
picks:
  # - { on: ${on(july, '24')}, tree: T1, crop: ${crop}, weights: ${measures.weights}, split: 1 }
  # - { on: ${on(july, '28')}, tree: T1, crop: ${crop}, fruit: 11, weight: ${measures.weight}, bird: 2 }

# Fruit lost before it could be picked.
drops:
  # - { on: ${on(july, '20')}, tree: T1, crop: ${crop}, fruit: 2 }

# One item a sitting. Let nobody know what is on the plate: give each sample a label of its own.
# In the order the best comes first, and a list inside it is a tie.
tastings:
  # - on: ${on(july, '24')}
  #   samples:
  #     - { tree: T1, crop: ${crop}, as: "417", ripeness: ripe, brix: 19.5 }
  #     - { tree: T2, crop: ${crop}, as: "862", ripeness: ripe }
  #   scores:
  #     mara:
  #       "417": { sweetness: 8, flavour: 9, texture: 7.5 }
  #       "862": { sweetness: 5, flavour: 6, texture: 6 }
  #   order:
  #     mara: ["417", "862"]

# Girth of the trunk, once a year and always at the same height.
growth:
  # - { on: ${on(march, '01')}, tree: T1, girth: ${measures.girth}, height: ${measures.height} }

# ${eitherOf(EVENT_WORDS)}:
# of a tree, a site or everything. wait_days are the days on the label of a spray before fruit may be picked.
events:
  # - { on: ${on(march, '14')}, tree: T2, kind: repot, container: "${measures.pot}" }
  # - { on: ${on(march, '21')}, site: garden, kind: feed, product: seaweed }
  # - { on: ${on(july, '10')}, site: garden, kind: spray, product: soap, wait_days: 3 }
`;
}

/** Measures of the examples, as bare numbers of the ledger. */
const METRIC = { weights: '[52.4, 47, 61.3]', weight: 580, girth: 14.2, height: 180, pot: '30 L' };
const IMPERIAL = {
  weights: '[1.8, 1.7, 2.2]',
  weight: 20.5,
  girth: 5.6,
  height: 71,
  pot: '7 UK gal',
};

/** `ledger.yaml` of a new ledger. */
function starterTrial({ title, fruit, place, latitude, units, season }: Starter): string {
  const isOfFigs = isFig(fruit);
  return `${editorLine('ledger')}
# The trial: where it is, who tastes, and how the rank is weighed. What begins with # is for you to
# read; take the # away from an example to make it count. pomary check tells what does not fit.

title: ${yamlScalar(title)}
fruit: ${yamlScalar(fruit)}

${placeLines(place, latitude)}

# What a number without a unit is. metric: g, mm, cm, degC. imperial: oz, in, degF.
# A number with its unit, in quotes, is always understood: "2.1 oz", "38 in".
# Tables tell weights in g and lengths in cm or mm, however they were typed.
units: ${units ?? 'metric'}

# Can fruit that needs pollination set where you are? absent or present.
pollinator: ${isOfFigs ? 'absent' : 'present'}

# Your own words for the two crops of a year. Fruit with one crop a year bears the main crop.
${isOfFigs ? 'crops: { early: breba, main: main }' : '# crops: { early: first, main: main }'}

# What tasters score, and the scale they do it on. Halves are welcome.
traits: [sweetness, flavour, texture]
scale: { low: 1, high: 10 }
# Words in use for what fruit tastes of; pomary check then asks whether another one is a slip.
# words: [melon, berry, honey, wild honey]

# Who tastes: a short key for the score sheets, and a name.
tasters:
  # mara: Mara
  # joss: Joss

# Where trees stand. What is overhead decides what may be compared: open, tunnel, glass or indoors.
sites:
  garden: { name: garden, cover: open }
  # glass: { name: glasshouse, cover: glass }

# First autumn frost of each season, where you know it.
frost:
  # ${season - 1}: ${season - 1}-${latitude !== undefined && latitude < 0 ? '04' : '10'}-20

# The cultivar that ripening is told against, by its key in cultivars.yaml: one your visitors know.
# standard: amber-lantern

# Warmth, if you keep weather/YEAR.csv with the columns date,tmin,tmax,rain (degC and mm).
degree_days: { base: 10, upper: 36, method: mean }

${isOfFigs ? figRank(units) : OTHER_RANK}

# What it takes to increase or to discard a cultivar; with less the verdict is to watch it.
verdict: { min_seasons: 3, min_tastings: 4, increase_above: 7.5, discard_below: 5 }
`;
}

const RANK = `# The rank is the weighted mean of these parts on the scale. Bands turn a measure into a score:
# straight lines between the points, flat beyond them. Set them before you look at the result.`;

function figRank(units: Starter['units']): string {
  const size =
    units === 'imperial' ? '[["0.7 oz", 1], ["2.8 oz", 10]]' : '[["20 g", 1], ["80 g", 10]]';
  return `${RANK}
rank:
  weights: { flavour: 3, sweetness: 2, productivity: 2, size: 1, soundness: 2 }
  bands:
    productivity: [[0, 1], [4, 10]] # fruit per branch
    size: ${size} # mean fruit weight
    soundness: [[0.5, 1], [1, 10]] # share of fruit sound`;
}

/** What is poor and what is good differs from fruit to fruit, and a band of another fruit misleads. */
const OTHER_RANK = `${RANK}
# What was measured has no weight yet, since only you know what is poor and what is good for
# your fruit: write your own numbers for POOR and GOOD below, take the # away, and give the same parts
# a weight, as in { flavour: 3, sweetness: 2, productivity: 2, size: 1, soundness: 2 }.
rank:
  weights: { flavour: 3, sweetness: 2 }
  # bands:
  #   productivity: [[POOR, 1], [GOOD, 10]] # fruit per branch
  #   size: [["POOR g", 1], ["GOOD g", 10]] # mean fruit weight, in g or oz
  #   soundness: [[POOR, 1], [GOOD, 10]] # share of fruit sound, 0 to 1`;

function placeLines(place: string | undefined, latitude: number | undefined): string {
  const lines = [
    '# Readers elsewhere judge by it what fits them. South of the equator (a latitude below 0) a season',
    '# runs from July to June.',
  ];
  if (place === undefined && latitude === undefined) {
    return [
      ...lines,
      '# place: { name: Tidewrack Lane, climate: cool maritime, latitude: 52.1 }',
    ].join('\n');
  }
  lines.push('place:');
  if (place !== undefined) lines.push(`  name: ${yamlScalar(place)}`);
  lines.push('  # climate: cool maritime');
  if (latitude !== undefined) lines.push(`  latitude: ${latitude}`);
  return lines.join('\n');
}

/**
 * Text as one YAML scalar that any reader of YAML 1.1 or 1.2 takes for that same text: bare where
 * it is plain words, else in double quotes, whose escapes YAML shares with JSON.
 */
export function yamlScalar(text: string): string {
  return WORDS.test(text) && !RESERVED.test(text) ? text : JSON.stringify(text);
}

const WORDS = /^\p{L}[\p{L}\p{M}\p{N}]*(?:[ '’-][\p{L}\p{N}][\p{L}\p{M}\p{N}]*)*$/u;
const RESERVED = /^(?:true|false|null|yes|no|on|off|y|n)$/i;
