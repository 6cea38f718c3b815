import type { Row } from './table.ts';

/** A cell of a report that may hold a number; undefined where it does not. */
export function numberIn(row: Row, key: string): number | undefined {
  const value = row[key];
  return typeof value === 'number' ? value : undefined;
}

/** A cell of a report as text; empty where there is none. */
export function textIn(row: Row, key: string): string {
  const value = row[key];
  return value === null || value === undefined ? '' : String(value);
}
