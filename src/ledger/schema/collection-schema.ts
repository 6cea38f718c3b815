import * as z from 'zod';
import { BEARING_TYPES, FIG_TYPES } from '../../model/collection.ts';
import { key, name, oneOf, partialDate, quantity, reference, text, trueOrFalse } from './fields.ts';

const cultivar = z.strictObject(
  {
    name,
    bears: oneOf([...FIG_TYPES, ...BEARING_TYPES] as [string, ...string[]]),
    also: z.array(name, { error: 'a list of names' }).optional(),
    perhaps: z
      .strictObject(
        { same_as: reference('the key of a cultivar'), why: text.optional() },
        { error: 'a map: { same_as: key, why: ... }' },
      )
      .optional(),
    protected: trueOrFalse.optional(),
    note: text.nullish(),
  },
  { error: 'a map: { name: ..., bears: ... }' },
);

/** `cultivars.yaml`: what is compared, by a short key. */
export const cultivarsSchema = z
  .record(key, cultivar, { error: 'a map from a short key to { name, bears }' })
  .meta({ title: 'pomary: cultivars.yaml' });
export type RawCultivar = z.infer<typeof cultivar>;

export const containerSchema = quantity('the size of the pot, as in "20 L", or ground');

const tree = z.strictObject(
  {
    cultivar: reference('the key of a cultivar'),
    received_as: text.optional(),
    from: text.optional(),
    received: partialDate.optional(),
    planted: partialDate.optional(),
    site: reference('the key of a site'),
    container: containerSchema.optional(),
    rootstock: text.optional(),
    removed: partialDate.optional(),
    note: text.nullish(),
  },
  { error: 'a map: { cultivar: ..., site: ... }' },
);

/** `trees.yaml`: each tree, by its id. */
export const treesSchema = z
  .record(key, tree, { error: 'a map from a tree id to { cultivar, site }' })
  .meta({ title: 'pomary: trees.yaml' });
export type RawTree = z.infer<typeof tree>;
