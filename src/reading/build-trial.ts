import type { Diagnostic } from '../diagnostics/diagnostic.ts';
import { diagnose } from '../diagnostics/diagnostic.ts';
import { didYouMean } from '../diagnostics/did-you-mean.ts';
import {
  bandPoints,
  bandUnitMissing,
  cropWords,
  degreeLimits,
  partUnknown,
  scaleEmpty,
  traitTaken,
  traitTwice,
} from '../diagnostics/words/naming.ts';
import { quantityUnreadable } from '../diagnostics/words/reading.ts';
import type { RawTrial } from '../entries/trial.ts';
import { byKey } from '../model/canonical-order.ts';
import type { IsoDate } from '../model/dates.ts';
import type { Taster } from '../model/entries.ts';
import {
  type Band,
  type Crop,
  MEASURED_PARTS,
  type MeasuredPart,
  type RankSettings,
  type Site,
  type Trial,
  type VerdictSettings,
} from '../model/ledger.ts';
import { type UnitSystem, unitNames } from '../model/quantity.ts';
import { type SourceFile, type Spot, spotIn, spotOf } from '../source/source-file.ts';
import { readableQuantity } from './building.ts';
import { frozenMap } from './frozen.ts';
import { shownValue } from './shown-value.ts';

/** Names that columns of the reports use and a trait therefore may not have. */
const TAKEN = new Set<string>([
  ...MEASURED_PARTS,
  'rank',
  'cultivar',
  'crop',
  'index',
  'low',
  'high',
  'trees',
  'seasons',
  'tastings',
  'letters',
  'why',
]);

export interface BuiltTrial {
  readonly trial: Trial;
  /** Keys of `ledger.yaml` that could not be used: what hangs on them is not complained of again. */
  readonly unsure: ReadonlySet<string>;
}

/** `ledger.yaml` as the model has it. Keys named in `bad` are left at what they are without it. */
export function buildTrial(
  raw: RawTrial,
  bad: ReadonlySet<string>,
  file: SourceFile,
  report: (diagnostic: Diagnostic) => void,
): BuiltTrial {
  const at = spotOf(file);
  const unsure = new Set(bad);
  const kept = <Key extends keyof RawTrial>(name: Key): RawTrial[Key] | undefined =>
    bad.has(name) ? undefined : raw[name];
  const place = kept('place') ?? {};
  const latitude = place.latitude ?? soundLatitude(raw.place);
  if (latitude !== undefined) unsure.delete('place');
  const traits = readTraits(kept('traits') ?? [], at, report);
  const scale = readScale(kept('scale'), at, report);
  if (scale === undefined) unsure.add('scale');
  const cropNames = readCropNames(kept('crops') ?? {}, at, report);
  if (cropNames === undefined) unsure.add('crops');
  const sites: [string, Site][] = Object.entries(kept('sites') ?? {}).map(([key, site]) => [
    key,
    Object.freeze({ key, name: site.name, cover: site.cover }),
  ]);
  const tasters: [string, Taster][] = Object.entries(kept('tasters') ?? {}).map(([key, name]) => [
    key,
    Object.freeze({ key, name }),
  ]);
  const units = kept('units') ?? 'metric';
  const rank = readRank(
    kept('rank'),
    { traits: bad.has('traits') ? undefined : traits, units },
    at,
    report,
  );
  const trial: Trial = Object.freeze({
    at,
    title: kept('title') ?? '',
    place: Object.freeze({ name: place.name, climate: place.climate, latitude }),
    fruit: kept('fruit') ?? '',
    units,
    decimal: kept('decimal') ?? 'point',
    dates: kept('dates'),
    pollinator: kept('pollinator') ?? 'absent',
    cropNames: cropNames ?? Object.freeze({ early: 'early', main: 'main' }),
    scale: scale ?? USUAL_SCALE,
    traits,
    words: Object.freeze([...(kept('words') ?? [])]),
    tasters: frozenMap(byKey(tasters)),
    sites: frozenMap(byKey(sites)),
    frost: frozenMap(
      Object.entries(kept('frost') ?? {}).map(([year, date]) => [Number(year), date as IsoDate]),
    ),
    standard: raw.standard === undefined || bad.has('standard') ? undefined : String(raw.standard),
    degreeDays: readDegreeDays(kept('degree_days') ?? {}, at, report),
    // What is set on the scale cannot be held against one that is in doubt.
    rank: unsure.has('scale')
      ? Object.freeze({ ...rank, bands: frozenMap<MeasuredPart, Band>([]) })
      : rank,
    verdict: readVerdict(unsure.has('scale') ? undefined : kept('verdict'), scale ?? USUAL_SCALE),
    licence: kept('licence'),
    front: frozenMap(Object.entries(kept('front') ?? {})),
  });
  return { trial, unsure };
}

const USUAL_SCALE = Object.freeze({ low: 1, high: 10 });

/** The latitude alone, from a `place` that something else is wrong with. */
function soundLatitude(place: unknown): number | undefined {
  if (typeof place !== 'object' || place === null || !('latitude' in place)) return undefined;
  const { latitude } = place;
  return typeof latitude === 'number' && Math.abs(latitude) <= 90 ? latitude : undefined;
}

function readTraits(
  traits: readonly string[],
  at: Spot,
  report: (diagnostic: Diagnostic) => void,
): readonly string[] {
  const seen = new Set<string>();
  for (const [index, trait] of traits.entries()) {
    const spot = spotIn(at, 'traits', index);
    if (TAKEN.has(trait)) report(diagnose(traitTaken, spot, { name: trait }));
    else if (seen.has(trait)) report(diagnose(traitTwice, spot, { name: trait }));
    seen.add(trait);
  }
  return Object.freeze([...seen]);
}

function readScale(
  raw: RawTrial['scale'],
  at: Spot,
  report: (diagnostic: Diagnostic) => void,
): Trial['scale'] | undefined {
  const scale = raw ?? USUAL_SCALE;
  if (scale.high > scale.low) return Object.freeze({ low: scale.low, high: scale.high });
  report(diagnose(scaleEmpty, spotIn(at, 'scale'), scale));
  return undefined;
}

function readCropNames(
  raw: NonNullable<RawTrial['crops']>,
  at: Spot,
  report: (diagnostic: Diagnostic) => void,
): Readonly<Record<Crop, string>> | undefined {
  const names = { early: raw.early ?? 'early', main: raw.main ?? 'main' };
  if (names.early === names.main || names.early === 'main' || names.main === 'early') {
    const word = names.main === 'early' ? 'early' : names.early;
    report(diagnose(cropWords, spotIn(at, 'crops'), { word }));
    return undefined;
  }
  return Object.freeze(names);
}

function readDegreeDays(
  { base = 10, upper, method = 'mean' }: NonNullable<RawTrial['degree_days']>,
  at: Spot,
  report: (diagnostic: Diagnostic) => void,
): Trial['degreeDays'] {
  if (upper === undefined || upper > base) return Object.freeze({ base, upper, method });
  report(diagnose(degreeLimits, spotIn(at, 'degree_days', 'upper'), { base, upper }));
  return Object.freeze({ base, upper: undefined, method });
}

function readRank(
  raw: RawTrial['rank'],
  { traits, units }: { traits: readonly string[] | undefined; units: UnitSystem },
  at: Spot,
  report: (diagnostic: Diagnostic) => void,
): RankSettings {
  const known = [...(traits ?? []), ...MEASURED_PARTS];
  const weights = new Map<string, number>();
  for (const [part, weight] of Object.entries(raw?.weights ?? {})) {
    if (known.includes(part)) {
      weights.set(part, weight);
      continue;
    }
    // Where the traits cannot be read, anything may be one.
    if (traits === undefined) continue;
    const spot: Spot = { ...spotIn(at, 'rank', 'weights', part), part: 'key' };
    report(diagnose(partUnknown, spot, { name: part, nearest: didYouMean(part, known), known }));
  }
  const bands = new Map<MeasuredPart, Band>();
  for (const part of MEASURED_PARTS) {
    const written = raw?.bands?.[part];
    if (written === undefined) continue;
    const points = readMeasures(part, written, units, spotIn(at, 'rank', 'bands', part), report);
    if (points === undefined) continue;
    const why = bandFault(points);
    if (why === undefined) bands.set(part, Object.freeze(points.map((one) => Object.freeze(one))));
    else report(diagnose(bandPoints, spotIn(at, 'rank', 'bands', part), { part, why }));
  }
  const ordered = known.flatMap((part): [string, number][] => {
    const weight = weights.get(part);
    return weight === undefined ? [] : [[part, weight]];
  });
  return Object.freeze({ weights: frozenMap(ordered), bands: frozenMap(bands) });
}

/** A band with its measures in pomary's unit, or undefined with a complaint. */
function readMeasures(
  part: MeasuredPart,
  written: readonly (readonly [measure: number | string, scale: number])[],
  units: UnitSystem,
  at: Spot,
  report: (diagnostic: Diagnostic) => void,
): Band | undefined {
  if (part === 'size' && units === 'imperial' && written.some(([measure]) => isBare(measure))) {
    const inUnit = (unit: string) => {
      const points = written.map(([measure, scale]) => {
        const told = isBare(measure) ? `${measure} ${unit}` : measure;
        return `[${JSON.stringify(told)}, ${scale}]`;
      });
      return `[${points.join(', ')}]`;
    };
    const facts = { oz: inUnit('oz'), g: inUnit('g') };
    report(diagnose(bandUnitMissing, at, facts));
    return undefined;
  }
  const points: [measure: number, scale: number][] = [];
  for (const [index, [measure, scale]] of written.entries()) {
    const value =
      typeof measure === 'number' ? measure : readableQuantity(measure, 'weight', 'metric');
    if (value === undefined) {
      const facts = {
        key: part,
        found: shownValue(measure),
        units: unitNames('weight'),
        bare: 'g',
      };
      report(diagnose(quantityUnreadable, spotIn(at, index, 0), facts));
      return undefined;
    }
    points.push([value, scale]);
  }
  return points;
}

/** A number without a unit; nothing weighs nothing in any unit. */
function isBare(measure: number | string): boolean {
  return typeof measure === 'number' ? measure !== 0 : /^[\s\d.+-]*$/.test(measure);
}

function bandFault(points: Band): string | undefined {
  if (points.length < 2) return 'needs at least two points';
  const rising = points.every(([measure], index) => {
    const before = points[index - 1];
    return before === undefined || measure > before[0];
  });
  return rising ? undefined : 'must have its measures rising from point to point';
}

/** Where the ledger is silent: the design's marks, carried over to the ledger's own scale. */
function readVerdict(raw: RawTrial['verdict'], scale: Trial['scale']): VerdictSettings {
  const onScale = (tenth: number) => scale.low + ((tenth - 1) / 9) * (scale.high - scale.low);
  return Object.freeze({
    minSeasons: raw?.min_seasons ?? 3,
    minTastings: raw?.min_tastings ?? 4,
    increaseAbove: raw?.increase_above ?? onScale(7.5),
    discardBelow: raw?.discard_below ?? onScale(5),
  });
}
