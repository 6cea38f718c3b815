import type { SchemaName } from './schema-files.ts';

/**
 * What an editor says of a key while someone types, by its path of keys; `*` stands for any key of
 * a map that the grower chooses. They stand apart from the zod schemas so that reading a ledger
 * does not pay for them; a test holds that no key is without one and none is left over.
 */
export const HINTS: Readonly<Record<SchemaName, Readonly<Record<string, string>>>> = {
  ledger: {
    title: 'What the trial is called, over every table.',
    place: 'Where it is.',
    'place.name': 'Its name, as you want readers to see it.',
    'place.climate': 'In a few words, so that readers elsewhere can judge what fits them.',
    'place.latitude':
      'Degrees, negative south of the equator, where a season runs from July to June.',
    fruit: 'What is grown, in the singular: fig.',
    units:
      'What numbers without a unit are. metric: g, mm, cm, degC. imperial: oz, in, degF. A number with its unit, as "2.1 oz", is converted exactly.',
    decimal:
      'The decimal sign where you write and in your spreadsheet. comma: 41,5 is always read as 41.5, and CSV has commas in its numbers and semicolons between them. The files of the ledger keep the point.',
    pollinator: 'Whether fruit that needs pollination can set here.',
    crops: 'Your own words for the two crops; early and main are always understood.',
    'crops.early': 'For figs the breba, on the wood of last year.',
    'crops.main': 'The crop on the wood of this year.',
    scale: 'The scale of scores.',
    'scale.low': 'The worst score.',
    'scale.high': 'The best score.',
    traits: 'What tasters score, each on the scale.',
    tasters: 'Who tastes: a short key and a name.',
    'tasters.*': 'The name.',
    sites: 'Where trees stand: a short key, a name and what is overhead.',
    'sites.*': 'A place with one climate of its own.',
    'sites.*.name': 'As tables print it.',
    'sites.*.cover': 'What is overhead.',
    frost: 'The first autumn frost of each season, where it is known.',
    'frost.*': 'The day of the first autumn frost.',
    standard: 'The key of the cultivar that ripening is told against.',
    degree_days: 'How warmth is added up from the weather files.',
    'degree_days.base': 'Degrees C below which nothing grows.',
    'degree_days.upper': 'Degrees C above which more warmth does no more.',
    'degree_days.method':
      'mean: mean of the day, not below the base. cut: lowest and highest are cut to base and upper first. sine: the day as a single sine wave.',
    rank: 'How the rank is weighed.',
    'rank.weights':
      'How much each part counts: a trait, or productivity, size, soundness or ripened.',
    'rank.weights.*': 'Only how the weights stand to each other matters.',
    'rank.bands':
      'How a measure becomes a score: points of a broken line, flat beyond its ends, as in [[0, 1], [4, 10]].',
    'rank.bands.productivity': 'From fruit per branch to the scale.',
    'rank.bands.size': 'From mean fruit weight in g to the scale.',
    'rank.bands.soundness': 'From the share of fruit that is sound, 0 to 1, to the scale.',
    'rank.bands.ripened':
      'From the share of fruit picked before the first frost, 0 to 1, to the scale.',
    verdict: 'What it takes to increase or discard a cultivar.',
    'verdict.min_seasons': 'With fewer seasons the verdict is watch.',
    'verdict.min_tastings': 'With fewer tastings the verdict is watch.',
    'verdict.increase_above': 'Increase if the whole interval of the index lies above.',
    'verdict.discard_below': 'Discard if the whole interval of the index lies below.',
    licence: 'Under which licence others may use what you publish.',
  },
  cultivars: {
    '*': 'A cultivar, by a short key of your own, as amber-lantern.',
    '*.name': 'Exactly as you received it. Quotes if it has marks such as # or :.',
    '*.bears':
      'Figs by how they set: common, smyrna, san-pedro or caprifig. Other fruit by its crops: early, main or both. unknown where you do not know.',
    '*.also': 'Other names of the same cultivar.',
    '*.perhaps': 'A doubt about what it is.',
    '*.perhaps.same_as': 'The key of the cultivar that it may be.',
    '*.perhaps.why': 'What speaks for it.',
    '*.protected': "Whether breeders' rights rest on it; leave it out if you have not looked.",
    '*.note': 'Anything worth keeping.',
  },
  trees: {
    '*': 'A tree, by the id on its label, as G3. It keeps the id for life.',
    '*.cultivar': 'The key of its cultivar in cultivars.yaml.',
    '*.received_as': 'The name on the label it came with, exactly.',
    '*.from': 'Who it came from.',
    '*.received': 'When it came: a day, a month or a year.',
    '*.planted': 'When it was planted where it first stood: a day, a month or a year.',
    '*.site': 'The key of the site where it stood first; later moves are events of a season.',
    '*.container': 'ground, or the size of the pot, as "20 L".',
    '*.rootstock': 'What it is grafted on, if it is.',
    '*.removed': 'When it was taken out or died: a day, a month or a year.',
    '*.note': 'Anything worth keeping.',
  },
  season: {
    season: 'The year of this file. South of the equator a season is named by the year it ends in.',
    note: 'Of the season as a whole.',
    ...entry('counts', 'What hangs on a tree on a day, before anything is picked that day.', {
      on: 'The day of the count.',
      fruit: 'Fruit hanging; 0 if there is none.',
      branches: 'Branches that could bear, for fruit per branch.',
      ...ofCrop(),
    }),
    ...entry('picks', 'Fruit picked from one tree on one day.', {
      on: 'The day of the pick.',
      fruit: 'Fruit picked; may be left out where every one of them is in weights.',
      weights: 'The weights of single fruit, as [52.4, 47].',
      weight: 'The weight of all fruit of the pick together.',
      sample:
        'How the fruit in weights were chosen from the pick. best keeps them out of the means.',
      split: 'Fruit split, and nothing worse.',
      bird: 'Fruit pecked by birds.',
      insect: 'Fruit spoiled by insects.',
      mould: 'Fruit mouldy or soured.',
      unripe: 'Fruit picked before it was ripe.',
      ...ofCrop(),
    }),
    ...entry('drops', 'Fruit lost before it could be picked.', {
      on: 'The day it was found.',
      fruit: 'Fruit lost.',
      ...ofCrop(),
    }),
    ...entry('tastings', 'One sitting: samples before some tasters.', {
      on: 'The day of the tasting.',
      samples: 'What was on the table.',
      'samples.as': 'A blind label, in quotes, by which the score sheets call it.',
      'samples.ripeness': 'under, ripe or over; ripe if left out.',
      'samples.brix': 'Soluble solids by refractometer, degrees Brix.',
      'samples.eye': "Width of the fig's eye.",
      ...under('samples', { ...ofCrop(), ...remarks() }),
      scores: 'By taster, then by sample, then by trait.',
      'scores.*': 'The score sheet of one taster, by the label of the sample.',
      'scores.*.*': 'The scores of one sample, by trait.',
      'scores.*.*.*': 'A score on the scale; halves and other decimals are welcome.',
      order: 'By taster: samples with the best first.',
      'order.*': 'The best first; a list inside the list is a tie.',
    }),
    ...entry('growth', 'How big a tree is.', {
      on: 'The day of measuring.',
      tree: 'The id of the tree.',
      girth: 'Girth of the trunk, always at the same height.',
      height: 'Height of the tree.',
    }),
    ...entry('events', 'What was done or happened to a tree, a site or everything.', {
      on: 'The day.',
      kind: 'move, water, feed, prune, repot, spray, frost or winter-damage.',
      tree: 'The tree, if it was one tree.',
      site: 'The site, if it was all trees there, or all for the whole trial; of a move, where the tree goes.',
      product: 'What was given or sprayed.',
      wait_days: 'Days to wait before fruit may be picked, from the label; 0 if none.',
      after: 'picks, if what was picked and tasted on the day of the spray was picked before it.',
      low: 'The lowest temperature.',
      dieback: 'Length of wood that died back.',
      container: 'ground, or the size of the new pot, as "35 L".',
    }),
  },
};

/** Paths of a section of a season file, with what any of its entries may carry. */
function entry(
  section: string,
  what: string,
  keys: Readonly<Record<string, string>>,
): Record<string, string> {
  return { [section]: what, ...under(section, { ...keys, ...remarks() }) };
}

function ofCrop(): Record<string, string> {
  return {
    tree: 'The id of the tree.',
    crop: 'early or main, or your own word for it in ledger.yaml.',
  };
}

function remarks(): Record<string, string> {
  return { note: 'Anything worth keeping.', photo: 'Path of a picture inside the ledger.' };
}

function under(place: string, keys: Readonly<Record<string, string>>): Record<string, string> {
  return Object.fromEntries(Object.entries(keys).map(([key, hint]) => [`${place}.${key}`, hint]));
}
