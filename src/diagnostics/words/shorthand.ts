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
});
