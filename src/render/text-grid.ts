import Table from 'cli-table3';
import { type FittedColumn, GAP } from './fit-columns.ts';
import { StandIns } from './stand-ins.ts';

export interface Grid {
  readonly head: readonly string[];
  readonly rule: string;
  readonly body: readonly string[];
}

/**
 * Draws a table as plain lines without trailing blanks; `rule` is the character under the head.
 *
 * The table package takes time with the square of the rows, so it gets a few at a time, each time
 * with the same widths. It also measures some scripts by older tables than ours and would cut or
 * shift them, so it gets stand-ins for everything that is not ASCII.
 */
export function drawGrid(columns: readonly FittedColumn[], rule: string): Grid {
  const height = Math.max(1, ...columns.map((column) => column.header.length));
  const title = columns.map(({ header }) => [...BLANK.slice(0, height - header.length), ...header]);
  const head = draw(columns, [title], rule);
  const count = columns[0]?.cells.length ?? 0;
  const body: string[] = [];
  for (let start = 0; start < count; start += CHUNK) {
    const rows = Array.from({ length: Math.min(CHUNK, count - start) }, (_, index) =>
      columns.map((column) => column.cells[start + index] ?? []),
    );
    body.push(...draw(columns, rows));
  }
  return { head: head.slice(0, height), rule: head[height] ?? '', body };
}

/** Rows of cells of lines. */
type Rows = readonly (readonly (readonly string[])[])[];

function draw(columns: readonly FittedColumn[], rows: Rows, rule = ''): readonly string[] {
  const standIns = new StandIns();
  const gap = ' '.repeat(GAP);
  const table = new Table({
    chars: { ...NO_LINES, middle: gap, bottom: rule, 'bottom-mid': rule === '' ? '' : gap },
    colWidths: columns.map((column) => column.width),
    colAligns: columns.map((column) => column.align),
    style: { head: [], border: [], 'padding-left': 0, 'padding-right': 0, compact: true },
  });
  for (const row of rows) {
    table.push(row.map((lines) => lines.map((line) => standIns.put(line)).join('\n')));
  }
  const drawn = standIns.takeBack(table.toString());
  return drawn.split('\n').map((line) => line.trimEnd());
}

const CHUNK = 16;
const BLANK: readonly string[] = Array.from({ length: 99 }, () => '');
const NO_LINES = {
  ...{ top: '', 'top-mid': '', 'top-left': '', 'top-right': '' },
  ...{ bottom: '', 'bottom-mid': '', 'bottom-left': '', 'bottom-right': '' },
  ...{ left: '', 'left-mid': '', mid: '', 'mid-mid': '', right: '', 'right-mid': '' },
};
