import type * as z from 'zod';
import { type Diagnostic, diagnose, type LocatedDiagnostic } from '../diagnostics/diagnostic.ts';
import { inOrder } from '../diagnostics/order.ts';
import { cultivarUnknown } from '../diagnostics/words/naming.ts';
import {
  fileEmpty,
  fileIgnored,
  fileMissing,
  seasonMismatch,
} from '../diagnostics/words/reading.ts';
import type { Cultivar } from '../model/collection.ts';
import { type GrowingYear, growingYear } from '../model/dates.ts';
import type { Ledger, Season, Trial, WeatherDay } from '../model/ledger.ts';
import { type SourceFile, type Spot, spotIn } from '../source/source-file.ts';
import { buildCultivars, buildTrees, checkDoubts, type Listed } from './build-collection.ts';
import { buildSeason } from './build-season.ts';
import { type BuiltTrial, buildTrial } from './build-trial.ts';
import { type Building, EVERYTHING, lookUp } from './building.ts';
import { decode } from './decode.ts';
import { frozenMap, frozenSet } from './frozen.ts';
import type { RawFile } from './raw-file.ts';
import { readWeather } from './read-weather.ts';
import { cultivarsSchema, treesSchema } from './schema/collection-schema.ts';
import { seasonSchema } from './schema/season-schema.ts';
import { trialSchema } from './schema/trial-schema.ts';
import type { SeasonContext } from './season-context.ts';
import { type Shaped, shape } from './shape.ts';
import { located } from './yaml-locate.ts';
import { readYaml } from './yaml-read.ts';

export interface LedgerRead {
  /** Absent only where `ledger.yaml` itself cannot be read. Otherwise all that is sound. */
  readonly ledger: Ledger | undefined;
  /** Found places, in order. */
  readonly diagnostics: readonly LocatedDiagnostic[];
}

const SEASON_FILE = /^seasons\/(\d{4})\.yaml$/;
const WEATHER_FILE = /^weather\/(\d{4})\.csv$/;

/** The files of a ledger, read, checked for shape, and linked. Nothing stops at the first problem. */
export function readLedger(raw: readonly RawFile[]): LedgerRead {
  const diagnostics: Diagnostic[] = [];
  const report = (diagnostic: Diagnostic) => {
    diagnostics.push(diagnostic);
  };
  const incomplete = new Set<string>();
  const files = new Map<string, SourceFile>();
  for (const one of raw) {
    const decoded = decode(one);
    files.set(one.path, decoded.file);
    for (const problem of decoded.diagnostics) report(problem);
    if (decoded.diagnostics.length > 0) incomplete.add(one.path);
  }
  const desk: Desk = { files, incomplete, report };

  const trialRead = readShaped(desk, 'ledger.yaml', trialSchema, 1, LEDGER_EXAMPLE);
  const built =
    trialRead?.value && buildTrial(trialRead.value, trialRead.bad, trialRead.file, report);
  const trial = built?.trial;
  if (built !== undefined && built.unsure.size > 0) incomplete.add('ledger.yaml');
  const cultivars = readCultivars(desk);
  const units: Building = { units: trial?.units ?? 'metric', report };
  checkDoubts(cultivars, units);
  const sites = listedIn(trial?.sites, built?.unsure.has('sites') ?? true);
  const trees = readTrees(desk, cultivars, sites, units);
  const tasters = listedIn(trial?.tasters, built?.unsure.has('tasters') ?? true);

  const seasons: Season[] = [];
  const weather = new Map<number, readonly WeatherDay[]>();
  const context = built && { ...units, ...built, trees, sites, tasters };
  if (trial !== undefined) checkStandard(trial, cultivars, units);
  for (const [path, file] of [...files].sort(([a], [b]) => (a < b ? -1 : 1))) {
    const season = readSeason(desk, path, context);
    if (season !== undefined) seasons.push(season);
    const weatherYear = Number(WEATHER_FILE.exec(path)?.[1]);
    if (weatherYear >= 0 && !incomplete.has(path)) {
      const days = readWeather(file, weatherYear, growingYearOf(weatherYear, built), report);
      weather.set(weatherYear, days);
    }
    checkName(path, file, report);
  }
  // An entry left out because of a name that leads nowhere is missing from its file's picture too.
  for (const { severity, at } of diagnostics)
    if (severity === 'error') incomplete.add(at.file.path);
  const ledger =
    trial &&
    Object.freeze({
      trial,
      cultivars: cultivars.listed,
      trees: trees.listed,
      seasons: Object.freeze(seasons),
      weather: frozenMap(weather),
      files: frozenMap(files),
      incomplete: frozenSet(incomplete),
    });
  return { ledger, diagnostics: inOrder(located(diagnostics)) };
}

/** What the steps of reading share. */
interface Desk {
  readonly files: ReadonlyMap<string, SourceFile>;
  readonly incomplete: Set<string>;
  report(diagnostic: Diagnostic): void;
}

const LEDGER_EXAMPLE = 'title: My trial';

/** A YAML file held against its schema; undefined where nothing can be used. */
function readShaped<Schema extends z.ZodType>(
  desk: Desk,
  path: string,
  schema: Schema,
  depth: number,
  example: string,
): (Shaped<z.infer<Schema>> & { file: SourceFile }) | undefined {
  const file = desk.files.get(path);
  if (file === undefined) {
    const anchor = desk.files.get('ledger.yaml') ?? { path, text: '', bom: false };
    desk.report(diagnose(fileMissing, { file: anchor, start: 0, end: 0 }, { file: path, example }));
    desk.incomplete.add(path);
    return undefined;
  }
  if (desk.incomplete.has(path)) return undefined;
  const read = readYaml(file);
  for (const problem of read.diagnostics) desk.report(problem);
  if (read.diagnostics.length > 0) desk.incomplete.add(path);
  else if (read.value === undefined || read.value === null) {
    desk.report(diagnose(fileEmpty, { file, start: 0, end: 0 }, { example }));
    desk.incomplete.add(path);
    return undefined;
  }
  if (read.value === undefined) return undefined;
  const shaped = shape(schema, read.value, file, depth);
  for (const problem of shaped.diagnostics) desk.report(problem);
  if (shaped.bad.size > 0) desk.incomplete.add(path);
  return { ...shaped, file };
}

function readCultivars(desk: Desk): Listed<Cultivar> {
  const example = 'amber: { name: Amber Lantern, bears: common }';
  const read = readShaped(desk, 'cultivars.yaml', cultivarsSchema, 1, example);
  if (read?.value === undefined) return { listed: new Map(), faulty: new Set([EVERYTHING]) };
  return buildCultivars(read.value, read.bad, read.file);
}

function readTrees(
  desk: Desk,
  cultivars: Listed<Cultivar>,
  sites: SeasonContext['sites'],
  building: Building,
): SeasonContext['trees'] {
  const example = 'G1: { cultivar: amber, site: glass }';
  const read = readShaped(desk, 'trees.yaml', treesSchema, 1, example);
  if (read?.value === undefined) return { listed: new Map(), faulty: new Set([EVERYTHING]) };
  return buildTrees(read.value, read.bad, read.file, cultivars, sites, building);
}

/** The growing year, unless `ledger.yaml` leaves in doubt on which side of the equator it is. */
function growingYearOf(year: number, built: BuiltTrial | undefined): GrowingYear | undefined {
  if (built === undefined || built.unsure.has('place')) return undefined;
  return growingYear(year, built.trial.place.latitude);
}

/** A season; without a context only what the file itself gets wrong is told. */
function readSeason(
  desk: Desk,
  path: string,
  context: SeasonContext | undefined,
): Season | undefined {
  const year = SEASON_FILE.exec(path)?.[1];
  if (year === undefined) return undefined;
  const read = readShaped(desk, path, seasonSchema, 2, `season: ${year}`);
  if (read?.value === undefined) return undefined;
  const mismatch = !read.bad.has('season') && read.value.season !== Number(year);
  if (mismatch) {
    const at: Spot = { file: read.file, path: ['season'], part: 'value' };
    const name = path.replace('seasons/', '');
    desk.report(diagnose(seasonMismatch, at, { file: name, season: read.value.season }));
    desk.incomplete.add(path);
  }
  if (context === undefined) return undefined;
  const season = buildSeason(read.value, read.bad, Number(year), read.file, context);
  // Entries of another year would each be found outside this season: the one slip has been told.
  return mismatch ? undefined : season;
}

function listedIn<Thing>(
  listed: ReadonlyMap<string, Thing> | undefined,
  faulty: boolean,
): Listed<Thing> {
  return { listed: listed ?? new Map(), faulty: new Set(faulty ? [EVERYTHING] : []) };
}

function checkStandard(trial: Trial, cultivars: Listed<Cultivar>, building: Building): void {
  if (trial.standard === undefined) return;
  const where = spotIn(trial.at, 'standard');
  lookUp(building, cultivarUnknown, trial.standard, cultivars.listed, cultivars.faulty, where);
}

/** Files in seasons/ and weather/ that a slip in the name keeps from being read. */
function checkName(path: string, file: SourceFile, report: (diagnostic: Diagnostic) => void): void {
  const [folder, name = ''] = path.split('/');
  if (folder !== 'seasons' && folder !== 'weather') return;
  if (SEASON_FILE.test(path) || WEATHER_FILE.test(path)) return;
  const wanted =
    folder === 'seasons'
      ? 'season files are named by their year, as in 2026.yaml'
      : 'weather files are named by their year, as in 2026.csv';
  report(diagnose(fileIgnored, { file, start: 0, end: 0 }, { name, wanted }));
}
