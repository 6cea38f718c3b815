import type { By, RowBy } from '../measure/group-records.ts';
import type { Selection } from '../measure/selection.ts';
import type { IsoDate } from '../model/dates.ts';
import type { Report } from './table.ts';

/** Whose trees tell how far trees differ: those of all cultivars together, or each row its own. */
export const SPREADS = ['shared', 'own'] as const;
export type Spread = (typeof SPREADS)[number];

/** What is asked of a report. */
export interface ReportRequest {
  readonly selection: Selection;
  /** What a row stands for; empty leaves it to the report. */
  readonly by: readonly By[];
  /**
   * Key of the column to sort by: numbers from the greatest, text and dates from the first. `:asc`
   * or `:desc` behind the key says otherwise. Left out, the report has its own order.
   */
  readonly sort?: string | undefined;
  /** Rows to show at most, after sorting. */
  readonly top?: number | undefined;
  /** Of every interval, as a fraction, such as 0.95. */
  readonly confidence: number;
  /** The day on which it is asked, which tells a season under way; without it every one is over. */
  readonly today?: IsoDate | undefined;
  /** Whether the notes tell the method at length, with sources. */
  readonly explain?: boolean | undefined;
}

/** What rows stand for, where the request leaves it to the report. */
export function rowsBy(request: ReportRequest, otherwise: readonly By[]): readonly By[] {
  return request.by.length > 0 ? request.by : otherwise;
}

/** What was asked for, in the words of the command line; what was left out is left out. */
export function selectionWords(
  { selection, sort, top, confidence }: ReportRequest,
  by: readonly RowBy[],
): Report['selection'] {
  const words: [string, string | number | readonly (string | number)[] | undefined][] = [
    ['season', selection.seasons],
    ['crop', selection.crops],
    ['site', selection.sites],
    ['cultivar', selection.cultivars],
    ['tree', selection.trees],
    ['by', by],
    ['sort', sort],
    ['top', top],
    ['confidence', percent(confidence)],
  ];
  return Object.fromEntries(
    words.flatMap(([key, value]) =>
      value === undefined || (Array.isArray(value) && value.length === 0) ? [] : [[key, value]],
    ),
  );
}

/** A fraction as percent, without the dust of binary fractions: 0.57 is 57. */
export function percent(fraction: number): number {
  return Number((100 * fraction).toPrecision(12));
}
