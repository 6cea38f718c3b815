import type { CropRecord } from '../measure/crop-record.ts';
import type { By, RowBy } from '../measure/group-records.ts';
import type { Ledger } from '../model/ledger.ts';
import {
  confoundingOf,
  cropWordsNote,
  emptyNote,
  notesInOrder,
  placeNotes,
  shownNote,
} from './common-notes.ts';
import { cropPhrase, onlyCrop, withCropWords } from './crop-words.ts';
import { cultivarName, siteName } from './names.ts';
import type { ReportRequest } from './report-request.ts';
import { selectionWords } from './report-request.ts';
import { forPeople } from './row-columns.ts';
import type { OwnOrder } from './row-order.ts';
import { orderRows } from './row-order.ts';
import type { Column, Note, Report, Row, Strip } from './table.ts';
import { listed, namedAs, yearsInWords } from './words.ts';

/** What a builder of a measured report brings along. */
export interface Draft {
  /** The command. */
  readonly report: string;
  /** What the table tells, as the title begins. */
  readonly what: string;
  /** In place of the title that is made of the rest. */
  readonly title?: string;
  readonly by: readonly RowBy[];
  /** What parts rows besides `by`. */
  readonly parted?: readonly By[];
  /** Everything that was selected. */
  readonly records: readonly CropRecord[];
  readonly columns: readonly Column[];
  /** Cells that have no column are left out. */
  readonly rows: readonly Row[];
  /** Rows of which a note tells people all there is, and what people read where there are no others. */
  readonly machineRows?: { readonly rows: readonly Row[]; readonly ifAlone: string };
  readonly order: OwnOrder;
  readonly strips?: readonly Strip[] | undefined;
  readonly screen?: Report['screen'] | undefined;
  /** Options that tell sites apart; `--by` with the site if left out. */
  readonly sitesApart?: string;
  readonly notes: readonly (Note | undefined)[];
  /** What is missing where records were selected and still there is no row. */
  readonly ifNoRows?: string;
  /** The same whatever was selected. */
  readonly whyEmpty?: string;
}

const NO_MACHINE_ROWS = { rows: [], ifAlone: '' };

/** Puts a measured report together: title, sorted rows, and the notes that all of them share. */
export function assembleReport(ledger: Ledger, request: ReportRequest, draft: Draft): Report {
  const { by, records } = draft;
  const { rows, cut } = orderRows(draft.columns, draft.rows, draft.order, request);
  const { machineRows = NO_MACHINE_ROWS } = draft;
  const following = orderRows(draft.columns, machineRows.rows, draft.order, request).rows;
  const notes =
    rows.length + following.length > 0
      ? [
          cropWordsNote(ledger),
          ...draft.notes,
          ...placeNotes(
            ledger,
            confoundingOf(
              ledger,
              records,
              [...by, ...(draft.parted ?? [])],
              draft.sitesApart ?? `--by ${[...by, 'site'].join(',')}`,
            ),
            records.map(({ tree }) => tree.cultivar),
          ),
          cut === undefined ? undefined : shownNote('evidence', cut),
        ]
      : [whyNoRows(ledger, request, draft)];
  return {
    report: draft.report,
    title: draft.title ?? reportTitle(ledger, request, draft, rows),
    ledgerTitle: ledger.trial.title,
    selection: selectionWords(request, by),
    columns: withCropWords(ledger, request.selection, forPeople(draft.columns, rows, by), rows),
    rows: [...rows, ...following].map((row) => onlyColumns(draft.columns, row)),
    ...(following.length === 0
      ? {}
      : { machineRows: following.length, ifEmpty: machineRows.ifAlone }),
    notes: notesInOrder(notes),
    ...(draft.strips === undefined ? {} : { strips: draft.strips }),
    ...(draft.screen === undefined ? {} : { screen: screenOf(ledger, request, draft.screen, by) }),
  };
}

function screenOf(
  ledger: Ledger,
  { selection }: ReportRequest,
  { columns, rows }: Pick<Report, 'columns' | 'rows'>,
  by: readonly RowBy[],
): Pick<Report, 'columns' | 'rows'> {
  return { columns: withCropWords(ledger, selection, forPeople(columns, rows, by), rows), rows };
}

function onlyColumns(columns: readonly Column[], row: Row): Row {
  return Object.fromEntries(columns.map(({ key }) => [key, row[key] ?? null]));
}

function whyNoRows(ledger: Ledger, { selection }: ReportRequest, draft: Draft): Note {
  if (draft.whyEmpty !== undefined) return shownNote('evidence', draft.whyEmpty);
  return draft.records.length > 0 && draft.ifNoRows !== undefined
    ? shownNote('evidence', draft.ifNoRows)
    : emptyNote(ledger, selection);
}

function reportTitle(
  ledger: Ledger,
  request: ReportRequest,
  draft: Draft,
  rows: readonly Row[],
): string {
  const seasons = draft.records.map((record) => record.season);
  const by = draft.by.join() === 'cultivar' ? '' : ` by ${listed(draft.by)}`;
  return [`${draft.what}${by}`, ...selectedParts(ledger, request, seasons, rows)].join(', ');
}

/** What of the ledger a table is about, as its title goes on: the crop, if one, the years, and what was asked for. */
export function selectedParts(
  ledger: Ledger,
  { selection }: Pick<ReportRequest, 'selection'>,
  seasons: readonly number[],
  rows: readonly Row[],
): readonly string[] {
  const cultivars = (selection.cultivars ?? []).map((key) => {
    const cultivar = ledger.cultivars.get(key);
    return cultivar === undefined ? key : cultivarName(ledger, cultivar);
  });
  const crop = onlyCrop(selection, rows);
  return [
    crop === undefined ? '' : cropPhrase(ledger, crop),
    yearsInWords(selection.seasons?.length ? selection.seasons : seasons),
    listed((selection.sites ?? []).map((key) => siteName(ledger, key))),
    listed(cultivars),
    selection.trees?.length ? namedAs('tree', selection.trees) : '',
  ].filter((part) => part !== '');
}
