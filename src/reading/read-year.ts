import { type Diagnostic, diagnose } from '../diagnostics/diagnostic.ts';
import { fileIgnored, seasonMismatch } from '../diagnostics/words/reading.ts';
import { type GrowingYear, growingYear } from '../model/dates.ts';
import type { Season, WeatherDay } from '../model/ledger.ts';
import type { SourceFile, Spot } from '../source/source-file.ts';
import { buildSeason } from './build-season.ts';
import type { BuiltTrial } from './build-trial.ts';
import type { Decoded } from './decode.ts';
import type { Frame } from './read-frame.ts';
import { type Reading, readShaped } from './read-shaped.ts';
import { readWeather } from './read-weather.ts';
import type { SeasonContext } from './season-context.ts';

const SEASON_FILE = /^seasons\/(\d{4})\.yaml$/;
const WEATHER_FILE = /^weather\/(\d{4})\.csv$/;

/** What a file of one year says; nothing where it is none. */
export interface Year {
  readonly season: Season | undefined;
  readonly days: readonly [year: number, days: readonly WeatherDay[]] | undefined;
}

export function readYear(reading: Reading, { file, diagnostics }: Decoded, frame: Frame): Year {
  const { report } = reading;
  const { built, trees, sites, tasters } = frame;
  const context = built && { units: built.trial.units, report, ...built, trees, sites, tasters };
  const season = readSeason(reading, file.path, context);
  const year = Number(WEATHER_FILE.exec(file.path)?.[1]);
  const days =
    year >= 0 && diagnostics.length === 0
      ? readWeather(file, year, growingYearOf(year, built), report)
      : undefined;
  checkName(file.path, file, report);
  return { season, days: days && [year, days] };
}

/** The growing year, unless `ledger.yaml` leaves in doubt on which side of the equator it is. */
function growingYearOf(year: number, built: BuiltTrial | undefined): GrowingYear | undefined {
  if (built === undefined || built.unsure.has('place')) return undefined;
  return growingYear(year, built.trial.place.latitude);
}

/** A season; without a context only what the file itself gets wrong is told. */
function readSeason(
  reading: Reading,
  path: string,
  context: SeasonContext | undefined,
): Season | undefined {
  const year = SEASON_FILE.exec(path)?.[1];
  if (year === undefined) return undefined;
  const read = readShaped(reading, path, 'season', 2, `season: ${year}`);
  if (read?.value === undefined) return undefined;
  const mismatch = !read.bad.has('season') && read.value.season !== Number(year);
  if (mismatch) {
    const at: Spot = { file: read.file, path: ['season'], part: 'value' };
    const name = path.replace('seasons/', '');
    reading.report(diagnose(seasonMismatch, at, { file: name, season: read.value.season }));
    reading.incomplete.add(path);
  }
  if (context === undefined) return undefined;
  const season = buildSeason(read.value, read.bad, Number(year), read.file, context);
  // Entries of another year would each be found outside this season: the one slip has been told.
  return mismatch ? undefined : season;
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
