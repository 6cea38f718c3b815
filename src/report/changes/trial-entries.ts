import { trial as kind } from '../../entries/trial.ts';
import type { Ledger } from '../../model/ledger.ts';
import { type Entry, type FieldValue, knownFields } from './entry.ts';

/** What `ledger.yaml` says: each setting an entry of its own. */
export function trialEntries({ trial }: Ledger): readonly Entry[] {
  const said = kind.said(trial);
  const settings = Object.keys(kind.fields).flatMap((key) => settingsOf(key, said[key]));
  return Object.entries(knownFields(Object.fromEntries(settings))).map(([name, value]) => ({
    kind: 'setting',
    name,
    tree: undefined,
    crop: undefined,
    on: undefined,
    cultivar: undefined,
    fields: { value },
  }));
}

/** A setting, or those inside it, by the path of keys. */
function settingsOf(path: string, value: unknown): readonly (readonly [string, FieldValue])[] {
  if (value === undefined) return [];
  if (typeof value !== 'object' || value === null || Array.isArray(value)) {
    return [[path, value as FieldValue]];
  }
  return Object.entries(value).flatMap(([key, one]) => settingsOf(`${path}.${key}`, one));
}
