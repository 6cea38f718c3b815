import type * as z from 'zod/mini';
import { seasonSchema } from '../../entries/derive/season-schema.ts';
import type { SchemaName } from '../schema-files.ts';
import { cultivarsSchema, treesSchema } from './collection-schema.ts';
import { trialSchema } from './trial-schema.ts';

/** What the files of a ledger look like. */
export const SCHEMAS = {
  ledger: trialSchema,
  cultivars: cultivarsSchema,
  trees: treesSchema,
  season: seasonSchema,
} satisfies Record<SchemaName, z.ZodMiniType>;

/** The contents of a kind of file as its schema describes them. */
export type RawFile<Name extends SchemaName> = z.infer<(typeof SCHEMAS)[Name]>;
