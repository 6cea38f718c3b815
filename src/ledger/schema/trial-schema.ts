import * as z from 'zod';
import type { MeasuredPart } from '../../model/ledger.ts';
import {
  date,
  key,
  name,
  number,
  oneOf,
  positiveWhole,
  quantity,
  reference,
  text,
} from './fields.ts';

const year = z.string().regex(/^\d{4}$/, { error: 'a year, as in 2026' });
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
export const trialSchema = z
  .strictObject(
    {
      title: name,
      place: z
        .strictObject(
          {
            name: text.optional(),
            climate: text.optional(),
            latitude: number
              .min(-90, { error: 'degrees from -90 to 90' })
              .max(90, { error: 'degrees from -90 to 90' })
              .optional(),
          },
          { error: 'a map with name, climate, latitude' },
        )
        .optional(),
      fruit: name,
      units: oneOf(['metric', 'imperial']).optional(),
      decimal: oneOf(['point', 'comma']).optional(),
      pollinator: oneOf(['absent', 'present']).optional(),
      crops: z
        .strictObject(
          { early: name.optional(), main: name.optional() },
          { error: 'a map: { early: your word, main: your word }' },
        )
        .optional(),
      scale: z
        .strictObject({ low: number, high: number }, { error: 'a map: { low: 1, high: 10 }' })
        .optional(),
      traits: z.array(key, { error: 'a list, for example [sweetness, flavour]' }),
      tasters: z.record(key, name, { error: 'a map from a short key to a name' }).nullish(),
      sites: z.record(
        key,
        z.strictObject(
          { name, cover: oneOf(['open', 'tunnel', 'glass', 'indoors']) },
          { error: 'a map: { name: ..., cover: open }' },
        ),
        { error: 'a map from a short key to { name, cover }' },
      ),
      frost: z.record(year, date, { error: 'a map from a year to a date' }).nullish(),
      standard: reference('the key of a cultivar').optional(),
      degree_days: z
        .strictObject(
          {
            base: number.optional(),
            upper: number.optional(),
            method: oneOf(['mean', 'cut', 'sine']).optional(),
          },
          { error: 'a map: { base: 10, upper: 36, method: mean }' },
        )
        .optional(),
      rank: z
        .strictObject(
          {
            weights: z.record(key, number.min(0, { error: 'a number, 0 or more' }), {
              error: 'a map from a part to its weight',
            }),
            bands: z
              .strictObject(
                {
                  productivity: points.optional(),
                  size: weightPoints.optional(),
                  soundness: points.optional(),
                  ripened: points.optional(),
                } satisfies Record<MeasuredPart, unknown>,
                { error: 'a map from a measured part to its points' },
              )
              .optional(),
          },
          { error: 'a map with weights and bands' },
        )
        .optional(),
      verdict: z
        .strictObject(
          {
            min_seasons: positiveWhole.optional(),
            min_tastings: positiveWhole.optional(),
            increase_above: number.optional(),
            discard_below: number.optional(),
          },
          { error: 'a map with min_seasons, min_tastings, increase_above, discard_below' },
        )
        .optional(),
      licence: text.optional(),
    },
    { error: 'a map that begins with title: My trial' },
  )
  .meta({ title: 'pomary: ledger.yaml' });

export type RawTrial = z.infer<typeof trialSchema>;
