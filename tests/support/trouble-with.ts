import type { Command } from 'commander';
import { lookOf } from '../../src/cli/look.ts';
import { readAndCheck } from '../../src/cli/open-ledger.ts';
import { buildProgram } from '../../src/cli/program.ts';
import { run } from '../../src/cli/run.ts';
import { renderDiagnosticsJson } from '../../src/render/diagnostics-json.ts';
import { renderDiagnostics } from '../../src/render/diagnostics-text.ts';
import { FORMATS, type Format, renderReport } from '../../src/render/render-report.ts';
import { builtReport } from './all-reports.ts';
import type { Files } from './changes.ts';
import { memoryHost } from './memory-host.ts';
import {
  faultOf,
  faultOfPlaces,
  faultOfStatus,
  faultOfText,
  type Outcome,
} from './output-faults.ts';

/** Commands that show a table of the whole ledger and need nothing said. */
export const REPORTS = buildProgram(memoryHost({ files: {} }).host)
  .commands.filter((command) => isReport(command))
  .map((command) => command.name());

function isReport(command: Command): boolean {
  const formats = command.options.find(({ long }) => long === '--format')?.argChoices ?? [];
  // export has tables too, but has to be told which.
  const isTable = formats.includes('csv') && formats.includes('json');
  return isTable && command.registeredArguments.every(({ required }) => !required);
}

/** Reports that draw thousands of times: asked for less often, or the rest would wait for them. */
const DRAWN = new Set(['rank', 'verdict']);
export const QUICK_REPORTS = REPORTS.filter((report) => !DRAWN.has(report));
const DRAWN_EVERY = 32;
/** Plain text takes most of the time that all forms take together: it is had for some reports only. */
const TEXT_EVERY = 4;

/** What was done to find trouble, for telling how thorough a search was. */
export interface Spent {
  /** Ledgers that could be read, that had errors, and that were no ledgers: without `ledger.yaml`. */
  sound: number;
  faulty: number;
  none: number;
  /** Command lines that were run. */
  commands: number;
  /** Tables and lists of diagnostics that were drawn up beside them. */
  pages: number;
}

export function nothingSpent(): Spent {
  return { sound: 0, faulty: 0, none: 0, commands: 0, pages: 0 };
}

/**
 * What is wrong with how pomary takes a ledger, whatever stands in it; undefined where it holds up.
 * Reads it, tells what is wrong with it, and where it has no errors draws up all reports in every
 * form; then a command must say the very same.
 *
 * @param turn which command that is, and whether the reports that draw thousands of times are had
 * @param spent is added to
 */
export async function troubleWith(
  files: Files,
  turn: number,
  spent = nothingSpent(),
): Promise<string | undefined> {
  const { reports, format } = planOf(turn);
  const [first = ''] = reports;
  const report = [first, '--format', format];
  if (!('ledger.yaml' in files)) {
    spent.none++;
    return troubleInCommands(files, [['check'], report], undefined, spent);
  }
  const { host } = memoryHost({ files });
  const start = performance.now();
  const { ledger, diagnostics } = readAndCheck(host, { color: true });
  const look = lookOf(host, host.stdout, false);
  const isSound = diagnostics.every(({ severity }) => severity !== 'error');
  if (isSound) spent.sound++;
  else spent.faulty++;
  if (isSound && ledger === undefined) return 'no ledger, and no error says why';
  const json = renderDiagnosticsJson(diagnostics);
  const pages = new Map([
    ['check --format json', json],
    ['check --format text', renderDiagnostics(diagnostics, look, { atMost: 100 })],
  ]);
  for (const [index, name] of reports.entries()) {
    if (!isSound || ledger === undefined) break;
    const built = await builtReport(name, ledger);
    for (const form of FORMATS) {
      if (form === 'text' && (turn + index) % TEXT_EVERY !== 0) continue;
      pages.set(`${name} --format ${form}`, await renderReport(built, form, look));
    }
  }
  spent.pages += pages.size;
  const ms = performance.now() - start;
  for (const [told, out] of pages) {
    const fault = faultOfText({ told, status: 0, out, err: '', ms });
    if (fault !== undefined) return fault;
  }
  const check = ['check', '--format', turn % 4 === 0 ? 'text' : 'json'];
  const isReport = turn % 2 === 1 || turn % DRAWN_EVERY === 0;
  const said = { status: isSound ? 0 : 1, pages };
  return (
    faultOfPlaces(json, files) ??
    (await troubleInCommands(files, [isReport ? report : check], said, spent))
  );
}

/** As `troubleWith`, but by commands alone, and few of them, to save time. */
export async function troubleAtGlance(files: Files, turn: number): Promise<string | undefined> {
  const spent = nothingSpent();
  const checked = await outcome(files, ['check', '--format', 'json'], spent);
  const fault = faultOf(checked, files) ?? faultOfPlaces(checked.out, files);
  if (fault !== undefined) return fault;
  const isSound = checked.status === 0;
  const { reports, format } = planOf(turn);
  const asked = reports.slice(0, isSound ? 2 : 1).map((report) => [report, '--format', format]);
  const commands = !isSound && turn % 2 === 0 ? [['check']] : asked;
  const said = { status: checked.status, pages: new Map<string, string>() };
  return troubleInCommands(files, commands, said, spent);
}

/** The reports to ask for, another one first with every turn, and in which form. */
function planOf(turn: number): { readonly reports: readonly string[]; readonly format: Format } {
  const isDrawn = turn % DRAWN_EVERY === 0;
  const reports = isDrawn ? REPORTS : QUICK_REPORTS;
  // Every other turn has a report for its command: the report changes first, then the form.
  const step = Math.floor(turn / (isDrawn ? DRAWN_EVERY : 2));
  const first = step % reports.length;
  const format = FORMATS[Math.floor(step / reports.length) % FORMATS.length] ?? 'text';
  return { reports: [...reports.slice(first), ...reports.slice(0, first)], format };
}

/** Commands must end and say what was had beside them. */
async function troubleInCommands(
  files: Files,
  commands: readonly (readonly string[])[],
  said: { readonly status: number; readonly pages: ReadonlyMap<string, string> } | undefined,
  spent: Spent,
): Promise<string | undefined> {
  for (const argv of commands) {
    const found = await outcome(files, argv, spent);
    const fault =
      faultOf(found, files) ?? (said === undefined ? undefined : faultOfStatus(found, said.status));
    if (fault !== undefined) return fault;
    const page = said?.pages.get(found.told);
    if (page !== undefined && page !== found.out) {
      return `${found.told}: the command shows another page\n${found.out}\n${page}`;
    }
  }
  return undefined;
}

async function outcome(files: Files, argv: readonly string[], spent: Spent): Promise<Outcome> {
  spent.commands++;
  const captured = memoryHost({ files });
  const start = performance.now();
  const status = await run(argv, captured.host);
  const ms = performance.now() - start;
  return { told: argv.join(' '), status, out: captured.out(), err: captured.err(), ms };
}
