import type { LocatedDiagnostic } from '../../diagnostics/diagnostic.ts';
import { sortedDiagnostics } from '../../diagnostics/order.ts';
import { renderDiagnostics } from '../../render/diagnostics-text.ts';
import { type Look, proseWidth } from '../../render/look.ts';
import { hang } from '../../render/text-lines.ts';
import { unifiedDiff } from '../../source/unified-diff.ts';
import { visible } from '../../source/visible.ts';
import { entryInWords } from '../../writing/shorthand/entry-in-words.ts';
import { EXIT, type ExitCode } from '../exit.ts';
import type { Host } from '../host.ts';
import { lookOf } from '../look.ts';
import type { Desk } from './desk.ts';
import { ledgerSoFar } from './ledger-so-far.ts';
import type { PlannedFile } from './plan.ts';
import type { Failure, WrittenEntry } from './write-plan.ts';

/** Text that may hold anything, as lines behind a lead. */
export function saidLines(lead: string, text: string, look: Look): string {
  return hang(lead, visible(text), proseWidth(look))
    .map((line) => `${line}\n`)
    .join('');
}

/** Where each entry stands, and what it says. */
export function tellWritten(desk: Desk, written: readonly WrittenEntry[]): void {
  const { host } = desk;
  const look = lookOf(host, host.stdout, true);
  const ledger = ledgerSoFar(
    desk,
    written.map(({ entry }) => entry),
  );
  for (const { entry, path, line } of written) {
    host.stdout.write(`${visible(path)}:${line}\n`);
    host.stdout.write(saidLines('  ', entryInWords(ledger, entry), look));
  }
}

/** What the files would become. */
export function tellDiff(host: Host, files: readonly PlannedFile[]): void {
  for (const { path, before, after } of files) {
    const old = before.text === '' ? undefined : before.text;
    host.stdout.write(shown(host, unifiedDiff(path, old, after.text)));
  }
}

/** A diff as it is for whoever applies it; for a terminal without anything that could steer it. */
function shown(host: Host, diff: string): string {
  return host.stdout.isTTY ? diff.split('\n').map(visible).join('\n') : diff;
}

export function tellDiagnostics(
  host: Host,
  noColor: boolean,
  diagnostics: readonly LocatedDiagnostic[],
): void {
  if (diagnostics.length === 0) return;
  const look = lookOf(host, host.stderr, noColor);
  host.stderr.write(
    renderDiagnostics(sortedDiagnostics(diagnostics), look, { atMost: MOST_SHOWN }),
  );
}

const MOST_SHOWN = 50;

/** Why entries were not written, and the entries themselves, so that nothing is lost. */
export function tellFailure(host: Host, noColor: boolean, failure: Failure): ExitCode {
  const { kind, path, diagnostics, fault, text } = failure;
  tellDiagnostics(host, noColor, diagnostics);
  if (fault !== undefined) {
    const advice = fault.advice === '' ? '' : `; ${fault.advice}`;
    host.stderr.write(`pomary: cannot write ${visible(path)}: ${fault.message}${advice}\n`);
  }
  handBack(host, 'These entries were not written:', text);
  return kind === 'failed' ? EXIT.file : EXIT.ledgerErrors;
}

/** Prints what was not written. */
export function handBack(host: Host, title: string, text: string): void {
  const lines = text.trimEnd().split('\n').map(visible);
  host.stderr.write(`${title}\n${lines.join('\n')}\n`);
}
