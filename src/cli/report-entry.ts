import type { Command } from 'commander';
import type { Ledger } from '../model/ledger.ts';
import type { ReportRequest } from '../report/report-request.ts';
import type { Report } from '../report/table.ts';
import type { Host } from './host.ts';
import type { ReportOptions } from './options.ts';

/**
 * A report as people ask for it: how its command is called, and what its own words come to beside
 * those that every report takes. The library asks in the same words; all of them may be left out.
 */
export interface ReportEntry<Words extends object> {
  readonly name: string;
  readonly description: string;
  readonly examples: readonly string[];
  /** Names and descriptions of what stands behind the command, where anything does. */
  readonly operands?: readonly (readonly [name: string, description: string])[];
  /** In the order of the help. */
  readonly options: readonly ((command: Command) => Command)[];
  /** The options that are held against the ledger, where not all of them speak of it. */
  readonly ofLedger?: (options: ReportOptions) => ReportOptions;
  /** What it rests on is loaded when it is asked. A method, so that entries of several words go into one list. */
  build(
    ledger: Ledger,
    request: ReportRequest,
    words: Words,
    operands: readonly string[],
    host: Host,
  ): Promise<Report>;
}
