import * as z from 'zod/mini';
import { BEARINGS, type Bearing, type Cultivar } from '../model/collection.ts';
import { choice, field, optional, remark, text } from './field.ts';
import { group, mapOf, type Said } from './kind.ts';
import { name, reference, trueOrFalse } from './values.ts';

const doubt = {
  same_as: field(
    'The key of the cultivar that it may be.',
    reference('the key of a cultivar'),
    { kind: 'cultivar' },
    { also: ['perhaps', 'perhaps same as', 'may be'] },
  ),
  why: optional(text('What speaks for it.', { also: ['perhaps why'] })),
};

const fields = {
  name: field(
    'Exactly as you received it. Quotes if it has marks such as # or :.',
    name,
    { kind: 'text' },
    {
      also: ['cultivar name', 'variety', 'variety name', 'sort'],
      perhaps: ['cultivar'],
      column: { about: 'Name, exactly as received.' },
    },
  ),
  bears: choice(
    'Figs by how they set: common, smyrna, san-pedro or caprifig. Other fruit by its crops: early, main or both. unknown where you do not know.',
    BEARINGS as [Bearing, ...Bearing[]],
    {
      also: ['type', 'fig type', 'crops'],
      column: { about: 'How it sets, or which crops it has.' },
    },
  ),
  also: optional(
    field(
      'Other names of the same cultivar.',
      z.array(name, { error: 'a list of names' }),
      { kind: 'names' },
      { also: ['synonym', 'synonyms', 'other names', 'also known as'] },
    ),
  ),
  perhaps: optional(group('A doubt about what it is.', doubt, 'a map: { same_as: key, why: ... }')),
  protected: optional(
    field(
      "Whether breeders' rights rest on it; leave it out if you have not looked.",
      trueOrFalse,
      { kind: 'yes or no' },
      { column: { about: "Whether breeders' rights rest on it." } },
    ),
  ),
  ...remark,
};

/** What is being compared. */
export const cultivar = {
  file: 'cultivars',
  title: 'pomary: cultivars.yaml',
  /** What its key is, in the map of the file. */
  hint: 'A cultivar, by a short key of your own, as amber-lantern.',
  expected: 'a map from a short key to { name, bears }',
  fields,
  doubt,
  schema: mapOf(fields, 'a map: { name: ..., bears: ... }'),
  said: ({ also, perhaps, ...rest }: Cultivar): Said => ({
    ...rest,
    also: also.length === 0 ? undefined : also,
    perhaps: perhaps?.sameAs,
    why: perhaps?.why,
  }),
} as const;

export type RawCultivar = z.infer<typeof cultivar.schema>;
