import { parseIsoDate } from '../model/dates.ts';
import { lineupDocument } from '../report/lineup/lineup-document.ts';
import { lineupSheet } from '../report/lineup/lineup-sheet.ts';
import type { Host } from './host.ts';
import { type LineupOptions, lineupRequestOf } from './lineup-request.ts';
import { openLedger } from './open-ledger.ts';
import { printDocument } from './print-document.ts';

/** The way of the sheets: options, ledger, proposal, text on the screen or in a file. */
export async function printLineup(host: Host, options: LineupOptions): Promise<void> {
  const ledger = await openLedger(host, options);
  const today = parseIsoDate(host.today());
  if (today === undefined) throw new RangeError('today is no date');
  const sheet = lineupSheet(ledger, lineupRequestOf(ledger, options, today), options.explain);
  const file = options.output ?? options.sheet;
  await printDocument(host, { ...options, output: file }, lineupDocument(sheet));
  if (options.sheet !== undefined) host.stdout.write(`${sheet.title}: written to ${file}\n`);
}
