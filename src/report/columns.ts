import { percent } from './report-request.ts';
import type { Cell, Column } from './table.ts';

interface Looks {
  readonly label: string;
  /** See `Column.drop`. */
  readonly drop: number;
  readonly unit?: string;
}

export function textColumn(key: string, looks: Looks): Column {
  return { key, kind: 'text', ...looks };
}

export function dateColumn(key: string, looks: Looks): Column {
  return { key, kind: 'date', ...looks };
}

export function countColumn(key: string, looks: Looks): Column {
  return { key, kind: 'integer', ...looks };
}

export function numberColumn(key: string, digits: number, looks: Looks): Column {
  return { key, kind: 'number', digits, ...looks };
}

export function shareColumn(key: string, digits: number, looks: Looks): Column {
  return { key, kind: 'share', digits, ...looks };
}

/** Lower and upper end of the interval of a figure, which people see as one column. */
export function intervalColumns(
  of: Column,
  [low, high]: readonly [string, string],
  confidence: number,
  drop: number,
): readonly [Column, Column] {
  const label = `${percent(confidence)} % interval`;
  const short = `${percent(confidence)} %`;
  return [
    { ...of, key: low, label, short, drop, upTo: high },
    { ...of, key: high, label, short, drop },
  ];
}

/** See `Column.onAsking`. */
export function onAsking(column: Column): Column {
  return { ...column, onAsking: true };
}

/** A figure as a cell: one that cannot be had is blank. */
export function cell(value: string | number | undefined): Cell {
  return value ?? null;
}
