import type { LineupSheet } from '../report/lineup-sheet.ts';
import {
  howToTaste,
  LEFT_OUT_HEADING,
  leftOutLines,
  orderLine,
  pasteHeading,
  REASONS_HEADING,
  reasonLines,
  SERVER_HEADING,
  serverColumns,
  sheetColumns,
  sheetHeading,
} from './lineup-pages.ts';
import { lineupYaml } from './lineup-yaml.ts';
import { literal } from './markdown-parts.ts';
import type { PeopleColumn } from './people-columns.ts';

/** Markdown has no break of its own; as HTML this begins a page where the sheets are printed. */
const NEXT_PAGE = '<div style="break-before: page"></div>';

/** The sheets of a sitting as Markdown (GitHub Flavored Markdown 0.29), to print or to keep. */
export function renderLineupMarkdown(sheet: LineupSheet): string {
  const notes = sheet.notes.map(({ kind, text }) =>
    kind === 'caution' ? `- **Caution:** ${literal(text)}` : `- ${literal(text)}`,
  );
  const blocks =
    sheet.samples.length === 0
      ? [
          `# ${literal(sheet.title)}`,
          ...section(LEFT_OUT_HEADING, leftOutLines(sheet)),
          notes.join('\n'),
        ]
      : [
          `# ${literal(sheet.title)}`,
          `## ${literal(SERVER_HEADING)}`,
          table(serverColumns(sheet)),
          ...section(REASONS_HEADING, reasonLines(sheet)),
          ...section(LEFT_OUT_HEADING, leftOutLines(sheet)),
          notes.join('\n'),
          ...sheet.orders.flatMap((order) => [
            NEXT_PAGE,
            `## ${literal(sheetHeading(sheet, order))}`,
            literal(howToTaste(sheet)),
            table(sheetColumns(sheet, order)),
            literal(orderLine(order)),
          ]),
          NEXT_PAGE,
          `## ${literal(pasteHeading(sheet))}`,
          `\`\`\`yaml\n${lineupYaml(sheet)}\`\`\``,
        ];
  return `${blocks.join('\n\n')}\n`;
}

function section(head: string, lines: readonly string[]): string[] {
  if (lines.length === 0) return [];
  return [`## ${literal(head)}`, lines.map((line) => `- ${literal(line)}`).join('\n')];
}

function table(columns: readonly PeopleColumn[]): string {
  const line = (cells: readonly string[]) => `| ${cells.join(' | ')} |`;
  const count = columns[0]?.cells.length ?? 0;
  return [
    line(columns.map(({ header }) => literal(header))),
    line(columns.map(({ align }) => (align === 'right' ? '---:' : '---'))),
    ...Array.from({ length: count }, (_, row) =>
      line(columns.map(({ cells }) => literal(cells[row] ?? ''))),
    ),
  ].join('\n');
}
