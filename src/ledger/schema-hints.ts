import { SEASON_HINTS } from '../entries/derive/season-hints.ts';
import type { SchemaName } from './schema-files.ts';

/**
 * What an editor says of a key while someone types, by its path of keys; `*` stands for any key of
 * a map that the grower chooses. A test holds that no key is without one and none is left over.
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
    words:
      'Words in use for what fruit tastes of, as [melon, wild honey]. Others are welcome; pomary check asks whether they are slips.',
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
  season: SEASON_HINTS,
};
