import { resolve } from 'node:path';
import { parseIsoDate } from '../model/dates.ts';
import { renderLineup, type SheetFormat } from '../render/render-lineup.ts';
import { lineupSheet } from '../report/lineup-sheet.ts';
import type { Host } from './host.ts';
import { type LineupOptions, lineupRequestOf } from './lineup-request.ts';
import { lookOf } from './look.ts';
import { openLedger } from './open-ledger.ts';

/** The way of the sheets: options, ledger, proposal, text on the screen or in a file. */
export async function printLineup(host: Host, options: LineupOptions): Promise<void> {
  const ledger = await openLedger(host, options);
  const today = parseIsoDate(host.today());
  if (today === undefined) throw new RangeError('today is no date');
  const sheet = lineupSheet(ledger, lineupRequestOf(ledger, options, today), options.explain);
  const look = lookOf(host, host.stdout, !options.color || options.sheet !== undefined);
  const format = options.format ?? formatOf(options.sheet);
  const text = await renderLineup(sheet, format, look);
  if (options.sheet === undefined) {
    host.stdout.write(text);
    return;
  }
  host.files.write(resolve(host.cwd, options.sheet), text);
  host.stdout.write(`${sheet.title}: written to ${options.sheet}\n`);
}

function formatOf(file: string | undefined): SheetFormat {
  if (file === undefined) return 'text';
  if (/\.(md|markdown)$/i.test(file)) return 'markdown';
  return /\.json$/i.test(file) ? 'json' : 'text';
}
