import type { Checks } from './checks.ts';
import type { Column } from './column.ts';

/** A row of the table: something that may be so where the program runs, and what must hold then. */
export interface Condition {
  readonly name: string;
  /** Throws `CannotBeMade` where this machine has no way to make the condition. */
  check(column: Column, checks: Checks, first: Column): Promise<void>;
}
