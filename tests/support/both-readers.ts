import { parseDocument } from 'yaml';
import { AS_FAST_READER } from '../../src/reading/yaml-problems.ts';
import { readYaml } from '../../src/reading/yaml-read.ts';

/** What came of reading: a value, or the reason why there is none. */
export type Read = { readonly value: unknown } | { readonly refused: string };

/** As reports read: js-yaml behind our own refusals. */
export function fast(text: string): Read {
  const { value, diagnostics } = readYaml({ path: 'x.yaml', text, bom: false });
  const [first] = diagnostics;
  return first === undefined ? { value: value ?? null } : { refused: first.rule };
}

/** As tidying reads: yaml, with the options that `check` uses for places. */
export function editing(text: string): Read {
  const document = parseDocument(text, AS_FAST_READER);
  const [first] = document.errors;
  if (first !== undefined) return { refused: first.code };
  try {
    return { value: document.toJS({ maxAliasCount: 0 }) as unknown };
  } catch {
    return { refused: 'ALIAS' };
  }
}
