import * as z from 'zod';
import { containerSchema } from './collection-schema.ts';
import {
  date,
  name,
  number,
  oneOf,
  positiveWhole,
  quantity,
  reference,
  remarks,
  text,
  wholeNumber,
} from './fields.ts';

const tree = reference('the id of a tree');
const crop = reference('early or main, or the word of this ledger for it');
const label = reference('the label of a sample');
const site = reference('the key of a site');

export const countSchema = z.strictObject(
  { on: date, tree, crop, fruit: wholeNumber, branches: positiveWhole.optional(), ...remarks },
  { error: 'a map: { on: ..., tree: ..., crop: ..., fruit: ... }' },
);

export const pickSchema = z.strictObject(
  {
    on: date,
    tree,
    crop,
    fruit: wholeNumber.optional(),
    weights: z
      .array(quantity('the weight of a fruit'), {
        error: 'a list of weights, for example [52.4, 47]',
      })
      .optional(),
    weight: quantity('the weight of the whole pick').optional(),
    sample: oneOf(['all', 'random', 'best']).optional(),
    split: wholeNumber.optional(),
    bird: wholeNumber.optional(),
    insect: wholeNumber.optional(),
    mould: wholeNumber.optional(),
    unripe: wholeNumber.optional(),
    ...remarks,
  },
  { error: 'a map: { on: ..., tree: ..., crop: ..., weights: [...] }' },
);

export const dropSchema = z.strictObject(
  { on: date, tree, crop, fruit: wholeNumber, ...remarks },
  { error: 'a map: { on: ..., tree: ..., crop: ..., fruit: ... }' },
);

const sampleSchema = z.strictObject(
  {
    tree,
    crop,
    as: label.optional(),
    ripeness: oneOf(['under', 'ripe', 'over']).optional(),
    brix: number
      .min(0, { error: 'degrees Brix from 0 to 85' })
      .max(85, { error: 'degrees Brix from 0 to 85' })
      .optional(),
    eye: quantity('the width of the eye').optional(),
    ...remarks,
  },
  { error: 'a map: { tree: ..., crop: ... }' },
);

const SHEET = 'a map from a taster to samples, as in mara: { G3: { flavour: 8 } }';
export const tastingSchema = z.strictObject(
  {
    on: date,
    samples: z.array(sampleSchema, { error: 'a list of samples' }),
    scores: z
      .record(
        z.string(),
        z.record(z.string(), z.record(z.string(), number, { error: SHEET }), { error: SHEET }),
        {
          error: SHEET,
        },
      )
      .nullish(),
    order: z
      .record(
        z.string(),
        z.array(
          z.union([label, z.array(label)], { error: 'a sample, or a list of tied samples' }),
          {
            error: 'a list, best first',
          },
        ),
        { error: 'a map from a taster to a list, best first' },
      )
      .nullish(),
    ...remarks,
  },
  { error: 'a map with on, samples, scores or order' },
);

export const growthSchema = z.strictObject(
  {
    on: date,
    tree,
    girth: quantity('the girth of the trunk').optional(),
    height: quantity('the height').optional(),
    ...remarks,
  },
  { error: 'a map: { on: ..., tree: ..., girth: ... }' },
);

const happened = { on: date, ...remarks };
const upon = { tree: tree.optional(), site: site.optional() };

export const eventSchema = z.discriminatedUnion(
  'kind',
  [
    z.strictObject({ ...happened, kind: z.literal('move'), tree, site }),
    z.strictObject({ ...happened, kind: z.literal('water'), ...upon, product: text.optional() }),
    z.strictObject({ ...happened, kind: z.literal('feed'), ...upon, product: text.optional() }),
    z.strictObject({ ...happened, kind: z.literal('prune'), ...upon, product: text.optional() }),
    z.strictObject({
      ...happened,
      kind: z.literal('repot'),
      tree,
      container: containerSchema.optional(),
    }),
    z.strictObject({
      ...happened,
      kind: z.literal('spray'),
      ...upon,
      product: name,
      wait_days: wholeNumber.max(3660, { error: 'a number of days' }),
    }),
    z.strictObject({
      ...happened,
      kind: z.literal('frost'),
      ...upon,
      low: quantity('the lowest temperature').optional(),
    }),
    z.strictObject({
      ...happened,
      kind: z.literal('winter-damage'),
      tree,
      dieback: quantity('the length that died back').optional(),
    }),
  ],
  {
    error: ({ code }) =>
      code === 'invalid_union'
        ? 'move, water, feed, prune, repot, spray, frost or winter-damage'
        : 'a map: { on: ..., kind: ... }',
  },
);

function section<Schema extends z.ZodType>(entry: Schema, what: string) {
  return z.array(entry, { error: `a list of ${what}, each beginning with "- "` }).nullish();
}

/** `seasons/YYYY.yaml`: what was seen that year. */
export const seasonSchema = z
  .strictObject(
    {
      season: z
        .int({ error: 'a year, as in 2026' })
        .min(1000, { error: 'a year' })
        .max(9998, { error: 'a year' }),
      counts: section(countSchema, 'counts'),
      picks: section(pickSchema, 'picks'),
      drops: section(dropSchema, 'drops'),
      tastings: section(tastingSchema, 'tastings'),
      growth: section(growthSchema, 'measurements'),
      events: section(eventSchema, 'events'),
      note: text.nullish(),
    },
    { error: 'a map that begins with season: 2026' },
  )
  .meta({ title: 'pomary: seasons/YYYY.yaml' });

export type RawSeason = z.infer<typeof seasonSchema>;
export type RawCount = z.infer<typeof countSchema>;
export type RawDrop = z.infer<typeof dropSchema>;
export type RawPick = z.infer<typeof pickSchema>;
export type RawTasting = z.infer<typeof tastingSchema>;
export type RawEvent = z.infer<typeof eventSchema>;
