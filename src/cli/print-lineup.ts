import { parseIsoDate } from '../model/dates.ts';
import { renderLineup, SHEET_FORMATS } from '../render/render-lineup.ts';
import { lineupSheet } from '../report/lineup-sheet.ts';
import { formatOfFile } from './format-of-file.ts';
import type { Host } from './host.ts';
import { type LineupOptions, lineupRequestOf } from './lineup-request.ts';
import { lookOf } from './look.ts';
import { openLedger } from './open-ledger.ts';
import { putOut } from './put-out.ts';

/** The way of the sheets: options, ledger, proposal, text on the screen or in a file. */
export async function printLineup(host: Host, options: LineupOptions): Promise<void> {
  const ledger = await openLedger(host, options);
  const today = parseIsoDate(host.today());
  if (today === undefined) throw new RangeError('today is no date');
  const sheet = lineupSheet(ledger, lineupRequestOf(ledger, options, today), options.explain);
  const file = options.output ?? options.sheet;
  const look = lookOf(host, host.stdout, !options.color || file !== undefined);
  const format = options.format ?? formatOfFile(file, SHEET_FORMATS);
  const text = await renderLineup(sheet, format, look);
  putOut(host, { ...options, output: file }, text);
  if (options.sheet !== undefined) host.stdout.write(`${sheet.title}: written to ${file}\n`);
}
