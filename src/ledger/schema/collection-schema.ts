import * as z from 'zod/mini';
import {
  container,
  key,
  name,
  oneOf,
  partialDate,
  reference,
  text,
  titled,
  trueOrFalse,
} from '../../entries/values.ts';
import { BEARINGS, type Bearing } from '../../model/collection.ts';

const cultivar = z.strictObject(
  {
    name,
    bears: oneOf(BEARINGS as [Bearing, ...Bearing[]]),
    also: z.optional(z.array(name, { error: 'a list of names' })),
    perhaps: z.optional(
      z.strictObject(
        { same_as: reference('the key of a cultivar'), why: z.optional(text) },
        { error: 'a map: { same_as: key, why: ... }' },
      ),
    ),
    protected: z.optional(trueOrFalse),
    note: z.nullish(text),
  },
  { error: 'a map: { name: ..., bears: ... }' },
);

/** `cultivars.yaml`: what is compared, by a short key. */
export const cultivarsSchema = titled(
  'pomary: cultivars.yaml',
  z.record(key, cultivar, { error: 'a map from a short key to { name, bears }' }),
);
export type RawCultivar = z.infer<typeof cultivar>;

const tree = z.strictObject(
  {
    cultivar: reference('the key of a cultivar'),
    received_as: z.optional(text),
    from: z.optional(text),
    received: z.optional(partialDate),
    planted: z.optional(partialDate),
    site: reference('the key of a site'),
    container: z.optional(container),
    rootstock: z.optional(text),
    removed: z.optional(partialDate),
    note: z.nullish(text),
  },
  { error: 'a map: { cultivar: ..., site: ... }' },
);

/** `trees.yaml`: each tree, by its id. */
export const treesSchema = titled(
  'pomary: trees.yaml',
  z.record(key, tree, { error: 'a map from a tree id to { cultivar, site }' }),
);
export type RawTree = z.infer<typeof tree>;
