import type { LineupSheet, SheetOrder } from '../report/lineup-sheet.ts';
import { visible } from '../source/visible.ts';
import type { PeopleColumn } from './people-columns.ts';

// What the forms say alike; they only set it differently.

const BLANK = '______';

export const SERVER_HEADING = 'For whoever serves: keep it from the tasters';
export const REASONS_HEADING = 'Why these';
export const LEFT_OUT_HEADING = 'Left out';

/** Which code is which tree. */
export function serverColumns({ samples }: LineupSheet): readonly PeopleColumn[] {
  return [
    column(
      'Code',
      0,
      samples.map(({ code }) => code),
    ),
    column(
      'Tree',
      0,
      samples.map(({ tree }) => tree),
    ),
    column(
      'Cultivar',
      0,
      samples.map(({ cultivar }) => cultivar),
    ),
    column(
      'Site',
      2,
      samples.map(({ site }) => site),
    ),
    column(
      'Fruit left',
      3,
      samples.map(({ fruitLeft }) => fruitLeft ?? ''),
      'right',
    ),
    column(
      'Tasted before',
      4,
      samples.map(({ tastings }) => tastings),
      'right',
    ),
    column(
      'Ripe',
      1,
      samples.map(({ ripe }) => ripe),
    ),
  ];
}

/**
 * A taster's sheet: codes in serving order, a blank for each trait.
 *
 * @param blank what stands where people write
 */
export function sheetColumns(
  { traits }: LineupSheet,
  { codes }: SheetOrder,
  blank = BLANK,
): readonly PeopleColumn[] {
  return [
    column('Code', 0, codes),
    ...traits.map((trait) =>
      column(
        trait,
        0,
        codes.map(() => blank),
        'right',
      ),
    ),
    column(
      'Remarks',
      0,
      codes.map(() => blank.repeat(3)),
    ),
  ];
}

function column(
  header: string,
  drop: number,
  cells: readonly (string | number)[],
  align: PeopleColumn['align'] = 'left',
): PeopleColumn {
  return {
    key: header,
    header: visible(header),
    align,
    drop,
    cells: cells.map((cell) => visible(String(cell))),
  };
}

export function sheetHeading({ on }: LineupSheet, { name }: SheetOrder): string {
  return `${name}, ${on}`;
}

export function howToTaste({ scale }: LineupSheet): string {
  return `Taste from the top down, with water in between. Scores from ${scale.low} to ${scale.high}, halves allowed.`;
}

export const BEST_FIRST = 'Best first (equals in brackets):';

/** A line for the order of a taster: a blank for each sample. */
export function orderLine({ codes }: SheetOrder): string {
  return `${BEST_FIRST} ${codes.map(() => BLANK).join(' ')}`;
}

export function reasonLines({ samples }: LineupSheet): readonly string[] {
  // Two samples may be there for the sake of each other.
  return [...new Set(samples.map(({ why }) => `${why}.`))];
}

/** The sprayed ones stand first, so what is cut off is never one of a few of them. */
const MOST_LEFT_OUT = 12;

export function leftOutLines({ leftOut }: LineupSheet): readonly string[] {
  const lines = leftOut.map(({ cultivar, tree, why }) => `${cultivar} (${tree}): ${why}.`);
  if (lines.length <= MOST_LEFT_OUT) return lines;
  const shown = lines.slice(0, MOST_LEFT_OUT);
  return [...shown, `${lines.length - MOST_LEFT_OUT} more; --format json names all.`];
}

export function pasteHeading({ file }: LineupSheet): string {
  switch (file.has) {
    case 'tastings':
      return `After the tasting: goes under tastings: in ${file.path}`;
    case 'season':
      return `After the tasting: goes at the end of ${file.path}`;
    case 'nothing':
      return `After the tasting: begins ${file.path}`;
  }
}
