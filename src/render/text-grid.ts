import Table from 'cli-table3';
import { displayWidth } from '../source/display-width.ts';
import { type FittedColumn, GAP } from './fit-columns.ts';

export interface Grid {
  readonly head: readonly string[];
  readonly rule: string;
  readonly body: readonly string[];
}

/**
 * Draws a table as plain lines without trailing blanks; `rule` is the character under the head.
 *
 * The table package takes time with the square of the rows, so it gets one at a time. It measures
 * some scripts by older tables than ours and would cut or shift them, so what it lays out are places
 * of the width that our measure gives, into which the texts are then set.
 */
export function drawGrid(columns: readonly FittedColumn[], rule: string): Grid {
  const height = Math.max(1, ...columns.map((column) => column.header.length));
  const title = columns.map(({ header }) => [...BLANK.slice(0, height - header.length), ...header]);
  const head = draw(columns, title, rule);
  const count = columns[0]?.cells.length ?? 0;
  const body = Array.from({ length: count }, (_, row) =>
    draw(
      columns,
      columns.map(({ cells }) => cells[row] ?? []),
    ),
  ).flat();
  return { head: head.slice(0, height), rule: head[height] ?? '', body };
}

/** One row, whose cells have lines. */
function draw(columns: readonly FittedColumn[], row: readonly Lines[], rule = ''): Lines {
  const gap = ' '.repeat(GAP);
  const table = new Table({
    chars: { ...NO_LINES, middle: gap, bottom: rule, 'bottom-mid': rule === '' ? '' : gap },
    colWidths: columns.map((column) => column.width),
    colAligns: columns.map((column) => column.align),
    style: { head: [], border: [], 'padding-left': 0, 'padding-right': 0, compact: true },
  });
  table.push(row.map((lines) => lines.map(placeFor).join('\n')));
  return table
    .toString()
    .split('\n')
    .map((line, at) => {
      const texts = row.map((lines) => lines[at] ?? '').filter((text) => displayWidth(text) > 0);
      let next = 0;
      return line.replace(PLACES, () => texts[next++] ?? '').trimEnd();
    });
}

type Lines = readonly string[];

function placeFor(text: string): string {
  return PLACE.repeat(displayWidth(text));
}

/** Nothing else that the package draws has this letter. */
const PLACE = 'x';
const PLACES = /x+/g;

const BLANK: readonly string[] = Array.from({ length: 99 }, () => '');
const NO_LINES = {
  ...{ top: '', 'top-mid': '', 'top-left': '', 'top-right': '' },
  ...{ bottom: '', 'bottom-mid': '', 'bottom-left': '', 'bottom-right': '' },
  ...{ left: '', 'left-mid': '', mid: '', 'mid-mid': '', right: '', 'right-mid': '' },
};
