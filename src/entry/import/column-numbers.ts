/** What a comma means in the numbers of a table. */
export type CommaSense = 'decimal' | 'thousands' | 'unclear';

/**
 * What a comma means, decided by all numbers of the table: 52,4 shows a decimal comma, 1,234.5 one
 * that parts thousands. Where the numbers contradict each other, or only have three digits behind a
 * comma, it stays unclear.
 */
export function commaSenseOf(cells: readonly string[]): CommaSense {
  let decimal = false;
  let thousands = false;
  for (const cell of cells.flatMap((one) => one.split(/[;\s]+/))) {
    const number = bareNumber(cell);
    if (/^-?(?:\d{1,3}(?:\.\d{3})+|\d+),(?:\d{1,2}|\d{4,})$/.test(number)) decimal = true;
    if (/^-?0,\d+$/.test(number)) decimal = true;
    if (/^-?\d{1,3}(?:,\d{3})+\.\d+$/.test(number) || /^-?\d{1,3}(?:,\d{3}){2,}$/.test(number)) {
      thousands = true;
    }
  }
  if (decimal === thousands) return 'unclear';
  return decimal ? 'decimal' : 'thousands';
}

/** The number of a cell, and what stands behind it; undefined where it is none or unclear. */
export function numberOfCell(
  cell: string,
  comma: CommaSense,
): { readonly number: number; readonly unit: string | undefined } | 'unclear' | undefined {
  const found = /^([-+]?[\d.,]*\d)\s*(\D.*)?$/.exec(
    cell.replaceAll(/(?<=\d)[\u00a0\u202f' ](?=\d{3}\b)/g, ''),
  );
  if (found === null) return undefined;
  const [, written = '', unit] = found;
  const text = plain(written, comma);
  if (text === undefined) return 'unclear';
  return /^[-+]?(?:\d+(?:\.\d+)?|\.\d+)$/.test(text)
    ? { number: Number(text), unit: unit?.trim() }
    : undefined;
}

function plain(written: string, comma: CommaSense): string | undefined {
  if (!written.includes(',')) return written;
  if (comma === 'decimal') return written.replaceAll('.', '').replace(',', '.');
  if (comma === 'thousands') return written.replaceAll(',', '');
  return undefined;
}

function bareNumber(cell: string): string {
  return /^[-+]?[\d.,]*\d/.exec(cell)?.[0] ?? '';
}
