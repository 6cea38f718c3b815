import { SECTIONS } from '../../entries/catalogue.ts';
import type { YamlNode } from '../../reading/yaml-node.ts';
import { readYaml } from '../../reading/yaml-read.ts';
import { yamlRoot } from '../../reading/yaml-tree.ts';
import { type Fields, isFields } from '../new-entry.ts';
import { type TextLines, textLines } from '../text-lines.ts';

/** The version that both began with, that of this branch, and that of the branch that comes in. */
export type Side = 'base' | 'ours' | 'theirs';

/** One version of a file as it reads. */
export interface Version extends TextLines {
  readonly side: Side;
  readonly root: YamlNode | undefined;
  readonly value: Fields;
}

/** A version of a file that is a map in lines, or says nothing; undefined for anything else. */
export function readVersion(side: Side, path: string, text: string): Version | undefined {
  const file = { path, text, bom: false };
  const { value, diagnostics } = readYaml(file);
  const read = value ?? {};
  if (diagnostics.length > 0 || !isFields(read)) return undefined;
  const root = yamlRoot(file);
  const isMap = root?.kind === 'map' && (!root.isFlow || root.pairs.length === 0);
  if (root !== undefined && !root.isBlank && !isMap) return undefined;
  return { ...textLines(text), side, root, value: read };
}

/** Whether any of these is the file of a season, whatever its name. */
export function isSeason(versions: readonly Version[]): boolean {
  return versions.some(
    ({ value }) =>
      Object.hasOwn(value, 'season') || SECTIONS.some((section) => Array.isArray(value[section])),
  );
}
