import type { Ledger } from '../../model/ledger.ts';
import { type Entry, type FieldValue, knownFields } from './entry.ts';

/** What `ledger.yaml` says: each setting an entry of its own. */
export function trialEntries({ trial }: Ledger): readonly Entry[] {
  const { place, cropNames, scale, degreeDays, rank, verdict } = trial;
  const settings: Readonly<Record<string, FieldValue | undefined>> = {
    title: trial.title,
    ...prefixed('place', { ...place }),
    fruit: trial.fruit,
    units: trial.units,
    pollinator: trial.pollinator,
    ...prefixed('crops', { ...cropNames }),
    ...prefixed('scale', { ...scale }),
    traits: trial.traits,
    words: trial.words.length === 0 ? undefined : trial.words,
    ...prefixed(
      'tasters',
      mapped(trial.tasters, ({ name }) => name),
    ),
    ...prefixed(
      'sites',
      mapped(trial.sites, ({ name, cover }) => `${name}, ${cover}`),
    ),
    ...prefixed('frost', mapped(trial.frost, String)),
    standard: trial.standard,
    ...prefixed('degree_days', { ...degreeDays }),
    ...prefixed('rank.weights', mapped(rank.weights, Number)),
    ...prefixed(
      'rank.bands',
      mapped(rank.bands, (band) => JSON.stringify(band)),
    ),
    ...prefixed('verdict', {
      min_seasons: verdict.minSeasons,
      min_tastings: verdict.minTastings,
      increase_above: verdict.increaseAbove,
      discard_below: verdict.discardBelow,
    }),
    licence: trial.licence,
  };
  return Object.entries(knownFields(settings)).map(([name, value]) => ({
    kind: 'setting',
    name,
    tree: undefined,
    crop: undefined,
    on: undefined,
    cultivar: undefined,
    fields: { value },
  }));
}

function prefixed(
  prefix: string,
  values: Readonly<Record<string, FieldValue | undefined>>,
): Readonly<Record<string, FieldValue | undefined>> {
  return Object.fromEntries(Object.entries(values).map(([key, one]) => [`${prefix}.${key}`, one]));
}

function mapped<Key extends string | number, Value>(
  values: ReadonlyMap<Key, Value>,
  shown: (value: Value) => FieldValue,
): Readonly<Record<string, FieldValue>> {
  return Object.fromEntries([...values].map(([key, value]) => [key, shown(value)]));
}
