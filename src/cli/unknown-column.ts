import { didYouMean } from '../diagnostics/did-you-mean.ts';
import { UnknownColumn } from '../report/named-column.ts';
import { UsageError } from './exit.ts';

/** What is thrown on: a column that nobody knows is a slip in what was asked. */
export function asUsageError(thrown: unknown): unknown {
  if (!(thrown instanceof UnknownColumn)) return thrown;
  const names = thrown.known.flatMap(({ key, label }) => [label, key]);
  const nearest = didYouMean(thrown.column, names);
  return new UsageError(
    nearest === undefined
      ? thrown.message
      : `there is no column "${thrown.column}"; did you mean ${nearest}?`,
  );
}
