import * as z from 'zod/mini';
import { RIPENESS, type Sample } from '../model/entries.ts';
import {
  amount,
  choice,
  crop,
  DAY_NAMES,
  day,
  entryTree,
  field,
  lines,
  optional,
  remarks,
  tableCell,
} from './field.ts';
import { type Kind, mapOf, type Said } from './kind.ts';
import { number, numberWithin, reference, tasteWord } from './values.ts';

const label = reference('the label of a sample');

const sampleFields = {
  tree: entryTree,
  crop,
  as: optional(
    field(
      'A blind label, in quotes, by which the score sheets call it.',
      label,
      { kind: 'text' },
      { also: ['label', 'blind label', 'code'], perhaps: ['sample'] },
    ),
  ),
  ripeness: optional(
    choice('under, ripe or over; ripe if left out.', RIPENESS, {
      also: ['ripe'],
      column: { about: 'under, ripe or over; blank counts as ripe.' },
    }),
  ),
  brix: optional(
    field(
      'Soluble solids by refractometer, degrees Brix.',
      numberWithin(0, 85, 'degrees Brix from 0 to 85'),
      { kind: 'number' },
      {
        also: ['sugar', 'soluble solids'],
        column: { about: 'Soluble solids.', unit: 'degBrix' },
      },
    ),
  ),
  eye: optional(
    amount("Width of the fig's eye.", 'width', 'the width of the eye', {
      also: ['ostiole', 'eye width'],
      column: { about: "Width of the fig's eye." },
    }),
  ),
  ...remarks,
};

/** One fruit or plate before the tasters. */
export const sample = {
  fields: sampleFields,
  schema: mapOf(sampleFields, 'a map: { tree: ..., crop: ... }'),
  said: ({ label: called, ...rest }: Sample): Said => ({
    ...rest,
    as: called === rest.tree.id ? undefined : called,
  }),
} as const;

const SHEET = 'a map from a taster to samples, as in mara: { G3: { flavour: 8 } }';
const scores = z.record(
  z.string(),
  z.record(z.string(), z.record(z.string(), number, { error: SHEET }), { error: SHEET }),
  { error: SHEET },
);
const WORDS = 'a map from a taster to samples, as in mara: { G3: [melon, fresh] }';
const words = z.record(
  z.string(),
  z.record(z.string(), z.array(tasteWord, { error: 'a list of words, as [melon, wild honey]' }), {
    error: WORDS,
  }),
  { error: WORDS },
);
const tied = z.union([label, z.array(label)], { error: 'a sample, or a list of tied samples' });
const order = z.record(z.string(), z.array(tied, { error: 'a list, best first' }), {
  error: 'a map from a taster to a list, best first',
});

const fields = {
  on: day('The day of the tasting.', {
    ...DAY_NAMES,
    also: [...DAY_NAMES.also, 'tasted', 'tasted on', 'tasting date'],
  }),
  samples: lines(
    'What was on the table.',
    z.array(sample.schema, { error: 'a list of samples' }),
    Object.fromEntries(Object.entries(sampleFields).map(([key, { hint }]) => [key, hint])),
  ),
  scores: lines('By taster, then by sample, then by trait.', z.nullish(scores), {
    '*': 'The score sheet of one taster, by the label of the sample.',
    '*.*': 'The scores of one sample, by trait.',
    '*.*.*': 'A score on the scale; halves and other decimals are welcome.',
  }),
  words: lines('What a taster says it tastes of: by taster, then by sample.', z.nullish(words), {
    '*': 'The words of one taster, by the label of the sample.',
    '*.*': 'Single words or short phrases, as [melon, wild honey].',
  }),
  order: lines('By taster: samples with the best first.', z.nullish(order), {
    '*': 'The best first; a list inside the list is a tie.',
  }),
  ...remarks,
};

/** A row of a table is one sample before one taster. */
const row = {
  on: fields.on,
  // Parts the sittings of one day; it is not written.
  sitting: tableCell({ kind: 'text' }, { also: ['session'] }),
  ...sampleFields,
  taster: tableCell({ kind: 'taster' }, { also: ['who', 'name', 'person', 'judge', 'tasted by'] }),
  trait: tableCell({ kind: 'text' }),
  score: tableCell({ kind: 'number' }),
  place: tableCell({ kind: 'whole', least: 1 }, { also: ['rank', 'position', 'placed'] }),
  word: tableCell(
    { kind: 'phrases' },
    { also: ['words', 'descriptors', 'tastes of', 'tasting words', 'tasting notes'] },
  ),
};

/** One sitting: samples before some tasters. */
export const tasting = {
  section: 'tastings',
  one: 'tasting',
  many: 'tastings',
  hint: 'One sitting: samples before some tasters.',
  fields,
  schema: mapOf(fields, 'a map with on, samples, scores, words or order'),
  row,
} as const satisfies Kind;
