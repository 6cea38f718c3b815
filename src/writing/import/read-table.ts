import { CsvError, parse } from 'csv-parse/sync';

/** A table of a spreadsheet as text. */
export interface TextTable {
  readonly headers: readonly string[];
  readonly rows: readonly TextRow[];
  /** The sign that parts its columns. */
  readonly delimiter: Delimiter;
}

export interface TextRow {
  /** Line of the file, counted from 1. */
  readonly line: number;
  readonly cells: readonly string[];
}

/** Why a text is no table. */
export interface TableFault {
  readonly line: number;
  readonly message: string;
  readonly advice: string;
}

const DELIMITERS = ['\t', ';', ','] as const;
export type Delimiter = (typeof DELIMITERS)[number];

/** A table from comma, semicolon or tab separated text (RFC 4180); the first line names the columns. */
export function readTable(text: string): TextTable | TableFault {
  const delimiter = delimiterOf(text);
  let records: readonly { record: string[]; info: { lines: number } }[];
  try {
    records = parse(text, {
      bom: true,
      delimiter,
      info: true,
      relax_column_count: true,
      skip_empty_lines: true,
      trim: true,
    }) as unknown as typeof records;
  } catch (thrown) {
    if (!(thrown instanceof CsvError)) throw thrown;
    const line = Number(thrown['lines'] ?? 1);
    return {
      line,
      message: `line ${line} cannot be read`,
      advice: 'look for a quote that is not closed',
    };
  }
  const [head, ...body] = records;
  if (head === undefined || head.record.every((cell) => cell === '')) {
    return { line: 1, message: 'the table is empty', advice: 'its first line names the columns' };
  }
  const width = head.record.length;
  const rows = body
    .filter(({ record }) => record.some((cell) => cell !== ''))
    .map(({ record, info }) => ({
      line: info.lines,
      cells: Array.from({ length: Math.max(width, record.length) }, (_, at) => record[at] ?? ''),
    }));
  return { headers: head.record, rows, delimiter };
}

/** The sign that parts the columns: the one that the first line has most of, outside of quotes. */
function delimiterOf(text: string): Delimiter {
  const first = text.replace(/^\ufeff/, '').split(/\r?\n/, 1)[0] ?? '';
  const bare = first.replaceAll(/"[^"]*"/g, '');
  const counts = DELIMITERS.map((sign) => bare.split(sign).length);
  return DELIMITERS[counts.indexOf(Math.max(...counts))] ?? ',';
}
