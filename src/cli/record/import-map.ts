import type { LocatedDiagnostic } from '../../diagnostics/diagnostic.ts';
import { located } from '../../reading/yaml-locate.ts';
import { readYaml } from '../../reading/yaml-read.ts';
import type { SourceFile } from '../../source/source-file.ts';
import { type ColumnTarget, headerParts } from '../../writing/import/columns.ts';
import { isFields } from '../../writing/new-entry.ts';
import { UsageError } from '../exit.ts';

/** Where a map sends the columns it names; null leaves a column out. */
export type ColumnMap = Readonly<Record<string, ColumnTarget | null>>;

/**
 * A map of columns: a YAML file that says for a header which field it gives, with a unit in
 * brackets, or nothing to leave the column out: `Gewicht: weight (kg)`. Throws a `UsageError` for
 * anything else.
 */
export function readColumnMap(
  file: SourceFile,
): { readonly map: ColumnMap } | { readonly problems: readonly LocatedDiagnostic[] } {
  const { value, diagnostics } = readYaml(file);
  if (diagnostics.length > 0) return { problems: located(diagnostics) };
  if (!isFields(value)) {
    throw new UsageError(`--map ${file.path} says nothing; write a line a column, as in Tag: on`);
  }
  const map: Record<string, ColumnTarget | null> = {};
  for (const [header, target] of Object.entries(value)) {
    if (target === null) map[header] = null;
    else if (typeof target === 'string') map[header] = targetOf(target);
    else {
      throw new UsageError(
        `--map ${file.path}: ${header} needs the name of a field behind it, as in ${header}: weight (oz)`,
      );
    }
  }
  return { map };
}

/** One column as it is said on the command line, `Gewicht=weight (kg)`, if it is one. */
export function columnSaid(text: string): ColumnMap | undefined {
  const [, header, target = ''] = /^(.+)=([^=]*)$/.exec(text.trim()) ?? [];
  if (header === undefined) return undefined;
  return { [header.trim()]: target.trim() === '' ? null : targetOf(target.trim()) };
}

function targetOf(text: string): ColumnTarget {
  const { unit } = headerParts(text);
  const to = text.replace(/\s*[([].*$/, '').trim();
  return unit === undefined ? { to } : { to, unit };
}
