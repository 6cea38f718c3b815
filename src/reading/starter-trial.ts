import { editorLine } from './schema-files.ts';
import type { Starter } from './starter.ts';
import { yamlScalar } from './yaml-scalar.ts';

/** `ledger.yaml` of a new ledger. */
export function starterTrial({
  title,
  fruit = 'fig',
  place,
  latitude,
  units,
  season,
}: Starter): string {
  const isFig = fruit.toLowerCase() === 'fig';
  return `${editorLine('ledger')}
# The trial: where it is, who tastes, and how the rank is weighed. What begins with # is for you to
# read; take the # away from an example to make it count. pomary check tells what does not fit.

title: ${yamlScalar(title)}
fruit: ${yamlScalar(fruit)}

${placeLines(place, latitude)}

# What a number without a unit is. metric: g, mm, cm, degC. imperial: oz, in, degF.
# A number with its unit, in quotes, is always understood: "2.1 oz", "38 in".
units: ${units ?? 'metric'}

# Can fruit that needs pollination set where you are? absent or present.
pollinator: ${isFig ? 'absent' : 'present'}

# Your own words for the two crops of a year. Fruit with one crop a year bears the main crop.
${isFig ? 'crops: { early: breba, main: main }' : '# crops: { early: first, main: main }'}

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

${isFig ? figRank(units) : OTHER_RANK}

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
