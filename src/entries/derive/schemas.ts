import * as z from 'zod/mini';
import type { SeasonSection } from '../../model/ledger.ts';
import { CATALOGUE, SECTIONS } from '../catalogue.ts';
import { cultivar } from '../cultivar.ts';
import { tree } from '../tree.ts';
import { trial } from '../trial.ts';
import { key, textValue, titled } from '../values.ts';

const SEASON = z
  .int({ error: 'a year, as in 2026' })
  .check(z.gte(1000, { error: 'a year' }), z.lte(9998, { error: 'a year' }));

/** `seasons/YYYY.yaml`: what was seen that year. */
const seasonSchema = titled(
  'pomary: seasons/YYYY.yaml',
  z.strictObject(
    { season: SEASON, ...sections(), note: z.nullish(textValue) },
    { error: 'a map that begins with season: 2026' },
  ),
);

/** What the files of a ledger look like. */
export const SCHEMAS = {
  ledger: titled(trial.title, trial.schema),
  cultivars: listOf(cultivar),
  trees: listOf(tree),
  season: seasonSchema,
};

/** The contents of a kind of file as its schema describes them. */
export type RawContents<Name extends keyof typeof SCHEMAS> = z.infer<(typeof SCHEMAS)[Name]>;

function listOf<Schema extends z.ZodMiniType>(kind: {
  readonly title: string;
  readonly expected: string;
  readonly schema: Schema;
}) {
  return titled(kind.title, z.record(key, kind.schema, { error: kind.expected }));
}

/** Every key of a season file, in the order in which it is written. */
export const SEASON_KEYS: readonly string[] = Object.keys(seasonSchema.shape);

type EntrySchema<Key extends SeasonSection> = (typeof CATALOGUE)[Key]['schema'];
type Sections = {
  [Key in SeasonSection]: z.ZodMiniOptional<z.ZodMiniNullable<z.ZodMiniArray<EntrySchema<Key>>>>;
};

function sections(): Sections {
  const made = SECTIONS.map((section) => {
    const { schema, many } = CATALOGUE[section];
    const error = `a list of ${many}, each beginning with "- "`;
    return [section, z.nullish(z.array<z.ZodMiniType>(schema, { error }))];
  });
  return Object.fromEntries(made);
}

export type RawSeason = z.infer<typeof seasonSchema>;
export type RawCount = z.infer<EntrySchema<'counts'>>;
export type RawDrop = z.infer<EntrySchema<'drops'>>;
export type RawPick = z.infer<EntrySchema<'picks'>>;
export type RawTasting = z.infer<EntrySchema<'tastings'>>;
export type RawEvent = z.infer<EntrySchema<'events'>>;
