import fc from 'fast-check';
import { atMatch, inFile, share } from './changes.ts';
import { anything, ODD_PIECES } from './odd-pieces.ts';

/** One value behind a colon or in a list becomes another: most of these ledgers can be read. */
export const values = fc
  .tuple(
    share,
    share,
    fc.oneof(
      fc.constantFrom(...ODD_PIECES),
      fc.integer({ min: -2, max: 2000 }).map(String),
      fc
        .double({ min: 0, max: 2000, noNaN: true })
        .map((value) => String(Number(value.toFixed(3)))),
      anything(12).map((text) => JSON.stringify(text)),
    ),
  )
  .map(([file, at, put]) =>
    inFile(file, (text) =>
      atMatch(text, /(?<=: |\[|, )[^\s,:{}[\]]+(?=\s*[,\n}\]])/g, at, () => put),
    ),
  );

const NUMBER = /(?<=[:,[] ?)\d+(?:\.\d+)?(?=[,\n}\] ])/g;

/** Numbers alone, so that what is read is odd but sound. */
export const numbers = fc
  .tuple(
    share,
    share,
    fc.constantFrom('0', '1', '2', '3', '7', '0.5', '0.001', '1000', '100000', '999999'),
  )
  .map(([file, at, put]) => inFile(file, (text) => atMatch(text, NUMBER, at, () => put)));

/** A number gets a unit, one that fits or one that does not. */
export const units = fc
  .tuple(
    share,
    share,
    fc.constantFrom(...['g', 'kg', 'oz', 'lb', 'mm', 'cm', 'm', 'in', 'ft', 'L', 'gal']),
    fc.constantFrom(' ', ' ', '', '  ', '\u00a0'),
  )
  .map(([file, at, unit, gap]) =>
    inFile(file, (text) => atMatch(text, NUMBER, at, (number) => `"${number}${gap}${unit}"`)),
  );

/** A date becomes another one of the file, moves by days or years, or is written in another way. */
export const dates = fc
  .tuple(
    share,
    share,
    share,
    fc.constantFrom(
      ...([
        'other',
        'other',
        'day',
        'month',
        'year',
        'early',
        'short',
        'bare',
        'local',
        'time',
      ] as const),
    ),
  )
  .map(([file, at, from, how]) =>
    inFile(file, (text) =>
      atMatch(text, /\b\d{4}-\d\d-\d\d\b/g, at, (date, all) => {
        const [year = '', month = '', day = ''] = date.split('-');
        const days = Number(day);
        const said = {
          other: all[Math.floor(from * all.length)] ?? date,
          day: `${year}-${month}-${String(1 + Math.floor(from * 33)).padStart(2, '0')}`,
          month: `${year}-${String(Math.floor(from * 15)).padStart(2, '0')}-${day}`,
          year: `${Number(year) - 2 + Math.floor(from * 5)}-${month}-${day}`,
          early: `0${year.slice(1)}-${month}-${day}`,
          short: `${year}-${Number(month)}-${days}`,
          bare: `${year}-${month}`,
          local: `${days}/${Number(month)}/${year}`,
          time: `${date}T0${days % 10}:30:00Z`,
        };
        return said[how];
      }),
    ),
  );

/** A word of the file stands where another one stood: names that lead nowhere, or elsewhere. */
export const words = fc
  .tuple(share, share, share)
  .map(([file, at, from]) =>
    inFile(file, (text) =>
      atMatch(
        text,
        /(?<=[ [{"])[\p{L}\d][\p{L}\d.-]*(?=[ ,:}\]"\n])/gu,
        at,
        (_, all) => all[Math.floor(from * all.length)] ?? '',
      ),
    ),
  );
