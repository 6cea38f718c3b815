import type { Command } from 'commander';
import { buildProgram } from '../../src/cli/program.ts';
import { run } from '../../src/cli/run.ts';
import { memoryHost } from './memory-host.ts';
import type { Texts } from './mutations.ts';

/** Longest that one command may take on a small ledger, ms: far more than the slowest needs. */
const CAP_MS = 60_000;

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
const DRAWN_EVERY = 16;

const FORMATS = ['text', 'markdown', 'html', 'csv', 'json'];

/**
 * What is wrong with how pomary takes a ledger, whatever stands in it; undefined where it holds up.
 * Checks the ledger, and asks for reports: all where it has no errors, one where it has.
 *
 * @param turn which report comes first, and in which format beside JSON
 * @param glance look at a part only, another with every turn, to save time
 */
export async function troubleWith(
  files: Texts,
  turn: number,
  glance = false,
): Promise<string | undefined> {
  const checked = await outcome(files, ['check', '--format', 'json']);
  const fault = faultOf(checked, files) ?? faultOfPlaces(checked.out, files);
  if (fault !== undefined) return fault;
  for (const argv of questions(turn, checked.status === 0, glance)) {
    const shown = await outcome(files, argv);
    const other = faultOf(shown, files);
    if (other !== undefined) return other;
    if (shown.status !== checked.status) {
      return `${shown.told}: status ${shown.status}, but check gave ${checked.status}`;
    }
  }
  return undefined;
}

function questions(turn: number, isSound: boolean, glance: boolean): readonly string[][] {
  const reports = turn % DRAWN_EVERY === 0 ? REPORTS : QUICK_REPORTS;
  const first = turn % reports.length;
  const rotated = [...reports.slice(first), ...reports.slice(0, first)];
  const format = FORMATS[turn % FORMATS.length] ?? 'text';
  const asked = rotated.slice(0, isSound ? (glance ? 2 : reports.length) : 1);
  if (glance && !isSound) return turn % 2 === 0 ? [['check']] : asked.map((report) => [report]);
  const forms = glance ? [format] : [...new Set(['json', format])];
  return [
    ...(glance ? [] : [['check']]),
    ...asked.flatMap((report) => forms.map((form) => [report, '--format', form])),
  ];
}

interface Outcome {
  readonly told: string;
  readonly status: number;
  readonly out: string;
  readonly err: string;
  readonly ms: number;
}

async function outcome(files: Texts, argv: readonly string[]): Promise<Outcome> {
  const captured = memoryHost({ files });
  const start = performance.now();
  const status = await run(argv, captured.host);
  const ms = performance.now() - start;
  return { told: argv.join(' '), status, out: captured.out(), err: captured.err(), ms };
}

function faultOf({ told, status, out, err, ms }: Outcome, files: Texts): string | undefined {
  const all = out + err;
  const wanted = 'ledger.yaml' in files ? [0, 1] : [2];
  const say = (fault: string) => `${told}: ${fault}\n${all.slice(0, 2_000)}`;
  if (!wanted.includes(status)) return say(`status ${status}`);
  if (ms > CAP_MS) return say(`took ${Math.round(ms)} ms`);
  if (/^\s+at .*:\d+:\d+\)?$/m.test(all)) return say('a stack trace');
  if (/pomary failed in its own check|fault of pomary/.test(all)) return say('a fault of its own');
  if (/\bNaN\b|\bInfinity\b|\bundefined\b|\[object /.test(all)) return say('no figure for people');
  if (STEERING.test(all)) return say('a character that steers terminals');
  if (told.endsWith('json') && status < 2 && out !== '') JSON.parse(out);
  return undefined;
}

const STEERING =
  // biome-ignore lint/suspicious/noControlCharactersInRegex: these are what must not get through
  /[\u0000-\u0008\u000b-\u001f\u007f-\u009f\u200e\u200f\u2028\u2029\u202a-\u202e\u2066-\u2069\ufeff]/;

interface Told {
  readonly rule: string;
  readonly message: string;
  readonly file: string;
  readonly line: number;
  readonly column: number;
  readonly length: number;
}

/** A diagnostic must point into the file that it names. */
function faultOfPlaces(out: string, files: Texts): string | undefined {
  if (out === '') return undefined;
  const { diagnostics } = JSON.parse(out) as { readonly diagnostics: readonly Told[] };
  for (const one of diagnostics) {
    const text = files[one.file]?.replace(/^\ufeff/, '');
    if (text === undefined) return `no file ${one.file}: ${JSON.stringify(one)}`;
    const start = offsetOf(text, one);
    if (start === undefined || start + one.length > text.length) {
      return `outside ${one.file}: ${JSON.stringify(one)}`;
    }
    if (one.message === '') return `without words: ${JSON.stringify(one)}`;
  }
  return undefined;
}

function offsetOf(text: string, { line, column }: Told): number | undefined {
  const lines = text.split(/(?<=\r\n|\n|\r(?!\n))/);
  const before = lines.slice(0, line - 1).join('');
  const here = lines[line - 1] ?? (line === lines.length + 1 ? '' : undefined);
  if (here === undefined || column < 1 || column - 1 > here.length) return undefined;
  return before.length + column - 1;
}
