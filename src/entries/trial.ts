import * as z from 'zod/mini';
import { DEGREE_DAY_METHODS, type MeasuredPart, type Trial } from '../model/ledger.ts';
import { blank, choice, field, type Holds, optional, text } from './field.ts';
import { group, keyed, mapOf, type Said } from './kind.ts';
import {
  date,
  key,
  name as nameValue,
  number as numberValue,
  numberWithin,
  positiveWhole,
  quantity,
  reference,
  tasteWord,
} from './values.ts';

const NUMBER: Holds = { kind: 'number' };
const number = (hint: string) => field(hint, numberValue, NUMBER);
const name = (hint: string) => field(hint, nameValue, { kind: 'text' });

const year = z.string().check(z.regex(/^\d{4}$/, { error: 'a year, as in 2026' }));
const points = z.array(
  z.tuple([numberValue, numberValue], { error: 'a pair of numbers: [measure, scale]' }),
  { error: 'a list of pairs, for example [[0, 1], [4, 10]]' },
);
const weightPoints = z.array(
  z.tuple([quantity('weight of a fruit'), numberValue], {
    error: 'a pair: [mean weight of a fruit, scale]',
  }),
  { error: 'a list of pairs, for example [["20 g", 1], ["80 g", 10]]' },
);
const POINTS: Holds = { kind: 'lines' };

const place = {
  name: optional(text('Its name, as you want readers to see it.')),
  climate: optional(text('In a few words, so that readers elsewhere can judge what fits them.')),
  latitude: optional(
    field(
      'Degrees, negative south of the equator, where a season runs from July to June.',
      numberWithin(-90, 90, 'degrees from -90 to 90'),
      NUMBER,
    ),
  ),
};

const crops = {
  early: optional(name('For figs the breba, on the wood of last year.')),
  main: optional(name('The crop on the wood of this year.')),
};

const scale = { low: number('The worst score.'), high: number('The best score.') };

const site = {
  name: { ...name('As tables print it.'), column: { about: 'Name.' } },
  cover: choice('What is overhead.', ['open', 'tunnel', 'glass', 'indoors'], {
    also: ['overhead'],
    column: { about: 'What is overhead: open, tunnel, glass or indoors.' },
  }),
};

const degreeDays = {
  base: optional(number('Degrees C below which nothing grows.')),
  upper: optional(number('Degrees C above which more warmth does no more.')),
  method: optional(
    choice(
      'mean: mean of the day, not below the base. cut: lowest and highest are cut to base and upper first. sine: the day as a single sine wave.',
      DEGREE_DAY_METHODS,
    ),
  ),
};

const bands = {
  productivity: optional(field('From fruit per branch to the scale.', points, POINTS)),
  size: optional(field('From mean fruit weight in g to the scale.', weightPoints, POINTS)),
  soundness: optional(
    field('From the share of fruit that is sound, 0 to 1, to the scale.', points, POINTS),
  ),
  ripened: optional(
    field(
      'From the share of fruit picked before the first frost, 0 to 1, to the scale.',
      points,
      POINTS,
    ),
  ),
} satisfies Record<MeasuredPart, unknown>;

const rank = {
  weights: keyed(
    'How much each part counts: a trait, or productivity, size, soundness or ripened.',
    key,
    field(
      'Only how the weights stand to each other matters.',
      numberValue.check(z.gte(0, { error: 'a number, 0 or more' })),
      NUMBER,
    ),
    'a map from a part to its weight',
  ),
  bands: optional(
    group(
      'How a measure becomes a score: points of a broken line, flat beyond its ends, as in [[0, 1], [4, 10]].',
      bands,
      'a map from a measured part to its points',
    ),
  ),
};

const verdict = {
  min_seasons: optional(
    field('With fewer seasons the verdict is watch.', positiveWhole, { kind: 'whole', least: 1 }),
  ),
  min_tastings: optional(
    field('With fewer tastings the verdict is watch.', positiveWhole, { kind: 'whole', least: 1 }),
  ),
  increase_above: optional(number('Increase if the whole interval of the index lies above.')),
  discard_below: optional(number('Discard if the whole interval of the index lies below.')),
};

/** As site generators write them: pubDate, og_image. */
const frontKey = z
  .string()
  .check(z.regex(/^[A-Za-z][A-Za-z0-9_-]{0,99}$/, { error: 'letters, digits, - and _' }));

const fields = {
  title: name('What the trial is called, over every table.'),
  place: optional(group('Where it is.', place, 'a map with name, climate, latitude')),
  fruit: name('What is grown, in the singular: fig.'),
  units: optional(
    choice(
      'What numbers without a unit are. metric: g, mm, cm, degC. imperial: oz, in, degF. A number with its unit, as "2.1 oz", is converted exactly.',
      ['metric', 'imperial'],
    ),
  ),
  decimal: optional(
    choice(
      'The decimal sign where you write and in your spreadsheet. comma: 41,5 is always read as 41.5, and CSV has commas in its numbers and semicolons between them. The files of the ledger keep the point.',
      ['point', 'comma'],
    ),
  ),
  dates: optional(
    choice(
      'Which comes first where you write a day as 12/9, the day or the month; asked once if left out.',
      ['day-first', 'month-first'],
    ),
  ),
  pollinator: optional(
    choice('Whether fruit that needs pollination can set here.', ['absent', 'present']),
  ),
  crops: optional(
    group(
      'Your own words for the two crops; early and main are always understood.',
      crops,
      'a map: { early: your word, main: your word }',
    ),
  ),
  scale: optional(group('The scale of scores.', scale, 'a map: { low: 1, high: 10 }')),
  traits: field(
    'What tasters score, each on the scale.',
    z.array(key, { error: 'a list, for example [sweetness, flavour]' }),
    { kind: 'names' },
  ),
  words: blank(
    field(
      'Words in use for what fruit tastes of, as [melon, wild honey]. Others are welcome; pomary check asks whether they are slips.',
      z.array(tasteWord, { error: 'a list of words, for example [melon, wild honey]' }),
      { kind: 'names' },
    ),
  ),
  tasters: blank(
    keyed(
      'Who tastes: a short key and a name.',
      key,
      name('The name.'),
      'a map from a short key to a name',
    ),
  ),
  sites: keyed(
    'Where trees stand: a short key, a name and what is overhead.',
    key,
    group('A place with one climate of its own.', site, 'a map: { name: ..., cover: open }'),
    'a map from a short key to { name, cover }',
  ),
  frost: blank(
    keyed(
      'The first autumn frost of each season, where it is known.',
      year,
      field('The day of the first autumn frost.', date, { kind: 'date' }),
      'a map from a year to a date',
    ),
  ),
  standard: optional(
    field(
      'The key of the cultivar that ripening is told against.',
      reference('the key of a cultivar'),
      { kind: 'cultivar' },
    ),
  ),
  degree_days: optional(
    group(
      'How warmth is added up from the weather files.',
      degreeDays,
      'a map: { base: 10, upper: 36, method: mean }',
    ),
  ),
  rank: optional(group('How the rank is weighed.', rank, 'a map with weights and bands')),
  verdict: optional(
    group(
      'What it takes to increase or discard a cultivar.',
      verdict,
      'a map with min_seasons, min_tastings, increase_above, discard_below',
    ),
  ),
  licence: optional(text('Under which licence others may use what you publish.')),
  front: blank(
    keyed(
      'What a site generator asks for at the head of every post, as { layout: post, lang: en }.',
      frontKey,
      field(
        'A text, a number, true or false, or a list of texts.',
        z.union([z.string(), numberValue, z.boolean(), z.array(z.string())], {
          error: 'a text, a number, true or false, or a list of texts',
        }),
        { kind: 'text' },
      ),
      'a map from a key of the front matter to its value',
    ),
  ),
};

/** The trial itself: the settings of `ledger.yaml`. */
export const trial = {
  file: 'ledger',
  title: 'pomary: ledger.yaml',
  fields,
  site,
  schema: mapOf(fields, 'a map that begins with title: My trial'),
  /** What the model has under other keys or in other forms than the file. */
  said: ({ cropNames, degreeDays: warmth, verdict: marks, ...rest }: Trial): Said => ({
    ...rest,
    crops: cropNames,
    words: rest.words.length === 0 ? undefined : rest.words,
    degree_days: warmth,
    tasters: mapped(rest.tasters, (one) => one.name),
    sites: mapped(rest.sites, (one) => `${one.name}, ${one.cover}`),
    frost: mapped(rest.frost, String),
    front: mapped(rest.front, (value) =>
      typeof value === 'object' ? value.join(', ') : String(value),
    ),
    rank: {
      weights: mapped(rest.rank.weights, Number),
      bands: mapped(rest.rank.bands, (band) => JSON.stringify(band)),
    },
    verdict: {
      min_seasons: marks.minSeasons,
      min_tastings: marks.minTastings,
      increase_above: marks.increaseAbove,
      discard_below: marks.discardBelow,
    },
  }),
} as const;

export type RawTrial = z.infer<typeof trial.schema>;

function mapped<Key extends string | number, Value>(
  values: ReadonlyMap<Key, Value>,
  shown: (value: Value) => string | number,
): Readonly<Record<string, string | number>> {
  return Object.fromEntries([...values].map(([one, value]) => [one, shown(value)]));
}
