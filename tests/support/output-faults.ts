import type { Files } from './changes.ts';

/** Longest that one command may take on a small ledger, ms: far more than the slowest needs. */
const CAP_MS = 60_000;

/** What a command line, or what it is made of, gave. */
export interface Outcome {
  /** The command line. */
  readonly told: string;
  readonly status: number;
  readonly out: string;
  readonly err: string;
  readonly ms: number;
}

/** What is wrong with how a command ended, or with what it said, whatever the ledger. */
export function faultOf(found: Outcome, files: Files): string | undefined {
  const wanted = 'ledger.yaml' in files ? [0, 1] : [2];
  if (!wanted.includes(found.status)) return say(found, `status ${found.status}`);
  return faultOfText(found);
}

/** Every command must take the ledger as `check` does. */
export function faultOfStatus(found: Outcome, status: number): string | undefined {
  if (found.status === status) return undefined;
  return `${found.told}: status ${found.status}, but check gives ${status}`;
}

/** What no output may hold, whatever stands in the ledger. */
export function faultOfText(found: Outcome): string | undefined {
  const { told, status, out, err, ms } = found;
  const all = out + err;
  if (ms > CAP_MS) return say(found, `took ${Math.round(ms)} ms`);
  if (/^\s+at .*:\d+:\d+\)?$/m.test(all)) return say(found, 'a stack trace');
  if (/pomary failed in its own check|fault of pomary/.test(all))
    return say(found, 'a fault of its own');
  if (/\bNaN\b|\bInfinity\b|\bundefined\b|\[object /.test(all))
    return say(found, 'no figure for people');
  if (STEERING.test(all)) return say(found, 'a character that steers terminals');
  if (told.endsWith('json') && status < 2 && out !== '') JSON.parse(out);
  return undefined;
}

function say({ told, out, err }: Outcome, fault: string): string {
  return `${told}: ${fault}\n${(out + err).slice(0, 2_000)}`;
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
export function faultOfPlaces(out: string, files: Files): string | undefined {
  if (out === '') return undefined;
  const { diagnostics } = JSON.parse(out) as { readonly diagnostics: readonly Told[] };
  for (const one of diagnostics) {
    const content = files[one.file];
    const text = content === undefined ? undefined : textOf(content);
    if (text === undefined) return `no file ${one.file}: ${JSON.stringify(one)}`;
    const start = offsetOf(text, one);
    if (start === undefined || start + one.length > text.length) {
      return `outside ${one.file}: ${JSON.stringify(one)}`;
    }
    if (one.message === '') return `without words: ${JSON.stringify(one)}`;
  }
  return undefined;
}

/** As pomary takes a file: UTF-8, without its byte order mark. */
function textOf(content: string | Uint8Array): string {
  return new TextDecoder().decode(typeof content === 'string' ? Buffer.from(content) : content);
}

function offsetOf(text: string, { line, column }: Told): number | undefined {
  const lines = text.split(/(?<=\r\n|\n|\r(?!\n))/);
  const before = lines.slice(0, line - 1).join('');
  const here = lines[line - 1] ?? (line === lines.length + 1 ? '' : undefined);
  if (here === undefined || column < 1 || column - 1 > here.length) return undefined;
  return before.length + column - 1;
}
