import * as z from 'zod/mini';
import {
  date,
  key,
  name,
  number,
  numberWithin,
  oneOf,
  positiveWhole,
  quantity,
  reference,
  tasteWord,
  text,
  titled,
} from '../../entries/values.ts';
import type { MeasuredPart } from '../../model/ledger.ts';

const year = z.string().check(z.regex(/^\d{4}$/, { error: 'a year, as in 2026' }));
const points = z.array(
  z.tuple([number, number], { error: 'a pair of numbers: [measure, scale]' }),
  {
    error: 'a list of pairs, for example [[0, 1], [4, 10]]',
  },
);
const weightPoints = z.array(
  z.tuple([quantity('weight of a fruit'), number], {
    error: 'a pair: [mean weight of a fruit, scale]',
  }),
  { error: 'a list of pairs, for example [["20 g", 1], ["80 g", 10]]' },
);

/** `ledger.yaml`: the trial. */
export const trialSchema = titled(
  'pomary: ledger.yaml',
  z.strictObject(
    {
      title: name,
      place: z.optional(
        z.strictObject(
          {
            name: z.optional(text),
            climate: z.optional(text),
            latitude: z.optional(numberWithin(-90, 90, 'degrees from -90 to 90')),
          },
          { error: 'a map with name, climate, latitude' },
        ),
      ),
      fruit: name,
      units: z.optional(oneOf(['metric', 'imperial'])),
      decimal: z.optional(oneOf(['point', 'comma'])),
      pollinator: z.optional(oneOf(['absent', 'present'])),
      crops: z.optional(
        z.strictObject(
          { early: z.optional(name), main: z.optional(name) },
          { error: 'a map: { early: your word, main: your word }' },
        ),
      ),
      scale: z.optional(
        z.strictObject({ low: number, high: number }, { error: 'a map: { low: 1, high: 10 }' }),
      ),
      traits: z.array(key, { error: 'a list, for example [sweetness, flavour]' }),
      words: z.nullish(
        z.array(tasteWord, { error: 'a list of words, for example [melon, wild honey]' }),
      ),
      tasters: z.nullish(z.record(key, name, { error: 'a map from a short key to a name' })),
      sites: z.record(
        key,
        z.strictObject(
          { name, cover: oneOf(['open', 'tunnel', 'glass', 'indoors']) },
          { error: 'a map: { name: ..., cover: open }' },
        ),
        { error: 'a map from a short key to { name, cover }' },
      ),
      frost: z.nullish(z.record(year, date, { error: 'a map from a year to a date' })),
      standard: z.optional(reference('the key of a cultivar')),
      degree_days: z.optional(
        z.strictObject(
          {
            base: z.optional(number),
            upper: z.optional(number),
            method: z.optional(oneOf(['mean', 'cut', 'sine'])),
          },
          { error: 'a map: { base: 10, upper: 36, method: mean }' },
        ),
      ),
      rank: z.optional(
        z.strictObject(
          {
            weights: z.record(key, number.check(z.gte(0, { error: 'a number, 0 or more' })), {
              error: 'a map from a part to its weight',
            }),
            bands: z.optional(
              z.strictObject(
                {
                  productivity: z.optional(points),
                  size: z.optional(weightPoints),
                  soundness: z.optional(points),
                  ripened: z.optional(points),
                } satisfies Record<MeasuredPart, unknown>,
                { error: 'a map from a measured part to its points' },
              ),
            ),
          },
          { error: 'a map with weights and bands' },
        ),
      ),
      verdict: z.optional(
        z.strictObject(
          {
            min_seasons: z.optional(positiveWhole),
            min_tastings: z.optional(positiveWhole),
            increase_above: z.optional(number),
            discard_below: z.optional(number),
          },
          { error: 'a map with min_seasons, min_tastings, increase_above, discard_below' },
        ),
      ),
      licence: z.optional(text),
    },
    { error: 'a map that begins with title: My trial' },
  ),
);

export type RawTrial = z.infer<typeof trialSchema>;
