import { wording } from '../diagnostic.ts';

// Words for typed lines of shorthand. What is wrong with a line is said by whoever reads it.

interface Said {
  readonly message: string;
  readonly advice: string;
}

export const lineNotUnderstood = wording<Said>({
  rule: 'line-not-understood',
  severity: 'error',
  why: 'A line that is not understood whole is not written at all.',
  message: ({ message }) => message,
  advice: ({ advice }) => advice,
});

export const lineUnclear = wording<Said>({
  rule: 'line-unclear',
  severity: 'error',
  why: 'Where a line can mean two things, nobody guesses.',
  message: ({ message }) => message,
  advice: ({ advice }) => advice,
});

export const rowNotUnderstood = wording<{ readonly reason: string }>({
  rule: 'row-not-understood',
  severity: 'error',
  why: 'A row of a table is taken whole or not at all.',
  message: ({ reason }) => reason,
  advice: ({ reason }) => adviceOnRow(reason),
});

export const dayAhead = wording<{ readonly on: string }>({
  rule: 'day-ahead',
  severity: 'warning',
  why: 'What is entered was seen, so its day has been.',
  message: ({ on }) => `${on} is still to come`,
  advice: () => 'correct the day, if it is not meant',
});

/** What spreadsheets do to a table when they save it. */
function adviceOnRow(reason: string): string {
  if (/ is no date with a year; .* is empty/.test(reason)) {
    return 'if this row is a heading or a total, --keep-good passes over it';
  }
  if (/ is no crop of this ledger/.test(reason)) {
    return "put early, main or the ledger's word in its place, or leave the column out and say --set crop=main";
  }
  return / is empty/.test(reason)
    ? 'fill it in: a cell merged over several rows is saved in the first of them alone'
    : '';
}
