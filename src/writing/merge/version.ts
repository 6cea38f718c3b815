import { SECTIONS } from '../../entries/catalogue.ts';
import type { YamlNode } from '../../reading/yaml-node.ts';
import { readYaml } from '../../reading/yaml-read.ts';
import { yamlRoot } from '../../reading/yaml-tree.ts';
import { type FileMap, isFileMap } from '../new-entry.ts';
import { type TextLines, textLines } from '../text-lines.ts';

/** The version that both began with, that of this branch, and that of the branch that comes in. */
export type Side = 'base' | 'ours' | 'theirs';

/** One version of a file as it reads. */
export interface Version extends TextLines {
  readonly side: Side;
  readonly root: YamlNode | undefined;
  readonly value: FileMap;
}

/** A version of a file that is a map in lines, or says nothing; undefined for anything else. */
export function readVersion(side: Side, path: string, text: string): Version | undefined {
  const file = { path, text, bom: false };
  const { value, diagnostics } = readYaml(file);
  const read = value ?? {};
  if (diagnostics.length > 0 || !isFileMap(read)) return undefined;
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

/** How the lines of a file end and begin, apart from what they say. */
interface LineForm {
  readonly bom: boolean;
  readonly crlf: boolean;
  readonly lastEnd: boolean;
}

const USUAL: LineForm = { bom: false, crlf: false, lastEnd: true };

/** The form of a text, and its lines with LF; where line ends are mixed they stay as they are. */
export function takeForm(text: string): { readonly form: LineForm; readonly lines: string } {
  if (text === '') return { form: USUAL, lines: '' };
  const bom = text.startsWith('\ufeff');
  const own = bom ? text.slice(1) : text;
  const crlf = own.includes('\r\n') && !/(?:^|[^\r])\n/.test(own);
  const lastEnd = own === '' || own.endsWith('\n');
  const plain = crlf ? own.replaceAll('\r\n', '\n') : own;
  return { form: { bom, crlf, lastEnd }, lines: lastEnd ? plain : `${plain}\n` };
}

/** The form that either side gave the file, where it is not that of what both began with. */
export function joinedForm(base: LineForm, ours: LineForm, theirs: LineForm): LineForm {
  const joined = (of: (form: LineForm) => boolean) =>
    of(ours) === of(base) ? of(theirs) : of(ours);
  return {
    bom: joined(({ bom }) => bom),
    crlf: joined(({ crlf }) => crlf),
    lastEnd: joined(({ lastEnd }) => lastEnd),
  };
}

export function giveForm(lines: string, { bom, crlf, lastEnd }: LineForm): string {
  const ended = lastEnd || !lines.endsWith('\n') ? lines : lines.slice(0, -1);
  const text = crlf ? ended.replace(/\r?\n/g, '\r\n') : ended;
  return bom ? `\ufeff${text}` : text;
}
