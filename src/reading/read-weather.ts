import { CsvError, parse } from 'csv-parse/sync';
import { type Diagnostic, diagnose } from '../diagnostics/diagnostic.ts';
import { weatherUnreadable } from '../diagnostics/words/reading.ts';
import { type GrowingYear, type IsoDate, parseIsoDate } from '../model/dates.ts';
import type { WeatherDay } from '../model/ledger.ts';
import { lineText, offsetOfLine } from '../source/position.ts';
import type { SourceFile, Span } from '../source/source-file.ts';
import { cutShort } from './shown-value.ts';

const COLUMNS = ['date', 'tmin', 'tmax', 'rain'] as const;
type ColumnName = (typeof COLUMNS)[number];
type Line = { readonly record: readonly string[]; readonly info: { readonly lines: number } };

/** Bounds that no weather station on land has passed; rain is for one day (WMO extremes archive). */
const BOUNDS = { tmin: [-90, 60], tmax: [-90, 60], rain: [0, 2000] } as const;

/**
 * `weather/YYYY.csv`: days in order; a cell left empty is not known.
 *
 * @param season the growing year that the days belong to, if it is known
 */
export function readWeather(
  file: SourceFile,
  year: number,
  season: GrowingYear | undefined,
  report: (diagnostic: Diagnostic) => void,
): readonly WeatherDay[] {
  const complain = (line: number, reason: string) =>
    report(diagnose(weatherUnreadable, lineSpan(file, line), { reason }));
  let lines: Line[];
  try {
    lines = PLAIN.test(file.text) ? plainLines(file.text) : parsedLines(file.text);
  } catch (thrown) {
    const line = thrown instanceof CsvError ? Number(thrown['lines'] ?? 1) : 1;
    complain(
      openQuote(file) ?? line,
      'this is not CSV: a quote is not closed, or is in the wrong place',
    );
    return [];
  }
  const [header, ...rows] = lines;
  const names = header?.record.map((name) => name.toLowerCase()) ?? [];
  const known = names.every((name) => (COLUMNS as readonly string[]).includes(name));
  if (!known || !names.includes('date') || new Set(names).size < names.length) {
    const found = names.length === 0 ? 'nothing' : `"${cutShort(names.join(','))}"`;
    const wanted = `the first line must name the columns ${COLUMNS.join(',')}, each once`;
    complain(header?.info.lines ?? 1, `${wanted}; found ${found}`);
    return [];
  }
  const days = new Map<IsoDate, WeatherDay>();
  const outside: { readonly date: IsoDate; readonly line: number }[] = [];
  for (const { record, info } of rows) {
    const day = readDay(record, names, (reason) => complain(info.lines, reason));
    if (day === undefined) continue;
    if (season !== undefined && (day.date < season.first || day.date > season.last)) {
      outside.push({ date: day.date, line: info.lines });
    } else if (days.has(day.date)) {
      complain(info.lines, `${day.date} is given a second time`);
    } else {
      days.set(day.date, day);
    }
  }
  const [first, ...others] = outside;
  if (first !== undefined && season !== undefined) {
    // A file by calendar years, south of the equator, would else be wrong some 180 times.
    const isAlone = others.length === 0;
    const more = isAlone
      ? ''
      : ` and ${others.length} more ${others.length === 1 ? 'day' : 'days'}`;
    complain(
      first.line,
      `${first.date}${more} ${isAlone ? 'is' : 'are'} outside the growing year ${year} (${season.first} to ${season.last})`,
    );
  }
  return Object.freeze([...days.values()].sort((a, b) => (a.date < b.date ? -1 : 1)));
}

/** Nothing that has a meaning of its own in CSV but commas and line ends. */
const PLAIN = /^[\w.,:;/+\-\n]*$/;

/** What the library makes of such a text, several times faster. */
function plainLines(text: string): Line[] {
  return text.split('\n').flatMap((line, at) => {
    return line === '' ? [] : [{ record: line.split(','), info: { lines: at + 1 } }];
  });
}

function parsedLines(text: string): Line[] {
  // The types of the library leave out what `info: true` returns.
  return parse(text, {
    info: true,
    relax_column_count: true,
    skip_empty_lines: true,
    trim: true,
  }) as unknown as Line[];
}

/** The first line with a quote that is not closed on it: no cell of this file runs over lines. */
function openQuote(file: SourceFile): number | undefined {
  const at = file.text
    .split(/\r\n|\n|\r/)
    .findIndex((line) => (line.match(/"/g)?.length ?? 0) % 2 === 1);
  return at < 0 ? undefined : at + 1;
}

function readDay(
  record: readonly string[],
  names: readonly string[],
  complain: (reason: string) => void,
): WeatherDay | undefined {
  if (record.length !== names.length) {
    complain(`this line has ${record.length} cells, the first line ${names.length}`);
    return undefined;
  }
  const cell = (name: ColumnName) => record[names.indexOf(name)] ?? '';
  const date = parseIsoDate(cell('date'));
  if (date === undefined) {
    complain(`"${cutShort(cell('date'))}" is not a date that exists, written YYYY-MM-DD`);
    return undefined;
  }
  let sound = true;
  const figure = (name: keyof typeof BOUNDS): number | undefined => {
    const text = cell(name);
    if (text === '') return undefined;
    const [low, high] = BOUNDS[name];
    const value = /^[-+]?\d+(\.\d+)?$/.test(text) ? Number(text) : Number.NaN;
    if (value >= low && value <= high) return value;
    sound = false;
    complain(`${name} must be a number from ${low} to ${high}; found "${cutShort(text)}"`);
    return undefined;
  };
  const day = { date, tmin: figure('tmin'), tmax: figure('tmax'), rain: figure('rain') };
  if (day.tmin !== undefined && day.tmax !== undefined && day.tmin > day.tmax) {
    complain(`tmin ${day.tmin} is above tmax ${day.tmax}`);
    sound = false;
  }
  return sound ? Object.freeze(day) : undefined;
}

function lineSpan(file: SourceFile, line: number): Span {
  const start = offsetOfLine(file, line);
  return { file, start, end: start + lineText(file, line).length };
}
