import { expect } from 'vitest';
import { run } from '../../src/cli/run.ts';
import type { Files } from './check-files.ts';
import { memoryHost } from './memory-host.ts';

export interface JsonReport {
  readonly report: string;
  readonly selection: Readonly<Record<string, unknown>>;
  readonly columns: readonly { readonly key: string; readonly label: string }[];
  readonly rows: readonly Readonly<Record<string, string | number | null>>[];
  readonly notes: readonly { readonly kind: string; readonly text: string }[];
}

/** What a command prints as JSON, over some files; it must succeed without a word on standard error. */
export async function runJson(files: Files, ...argv: readonly string[]): Promise<JsonReport> {
  const world = memoryHost({ files });
  const exit = await run([...argv, '--format', 'json'], world.host);
  expect({ exit, err: world.err() }).toEqual({ exit: 0, err: '' });
  expect(world.out()).not.toMatch(/NaN|Infinity|undefined|\[object/);
  return JSON.parse(world.out()) as JsonReport;
}

/** All notes of a report as one text. */
export function noteText({ notes }: JsonReport): string {
  return notes.map(({ text }) => text).join('\n');
}
