import { type Diagnostic, diagnose, type LocatedDiagnostic } from '../diagnostics/diagnostic.ts';
import { sortedDiagnostics } from '../diagnostics/order.ts';
import { cultivarUnknown, treeUnknown } from '../diagnostics/words/naming.ts';
import { fileEmpty } from '../diagnostics/words/reading.ts';
import { FRAME_FILES, type Ledger, type Season, type WeatherDay } from '../model/ledger.ts';
import type { SourceFile } from '../source/source-file.ts';
import { type Decoded, decode, type RawFile } from './decode.ts';
import { frozenMap, frozenSet } from './frozen.ts';
import { type Frame, LIST_EXAMPLES, readFrame } from './read-frame.ts';
import { partOf, type ReadPart } from './read-shaped.ts';
import { readYear, type Year } from './read-year.ts';
import { located } from './yaml-locate.ts';
import { readYaml, type YamlRead } from './yaml-read.ts';

export interface LedgerRead {
  /** Absent only where `ledger.yaml` itself cannot be read. Otherwise all that is sound. */
  readonly ledger: Ledger | undefined;
  /** Found places, in order. */
  readonly diagnostics: readonly LocatedDiagnostic[];
}

/** The files of a ledger, read, checked for shape, and linked. Nothing stops at the first problem. */
export function readLedger(raw: readonly RawFile[]): LedgerRead {
  return new LedgerReader(readYaml).read(raw.map(decode));
}

/**
 * Reads a ledger, and reads it again where some of its files have changed: what was made of a file is
 * taken again as long as it is the very same one, and the files that it leans on are.
 */
export class LedgerReader {
  readonly #readYaml: (file: SourceFile) => YamlRead;
  #frame:
    | { readonly from: readonly (Decoded | undefined)[]; readonly part: ReadPart<Frame> }
    | undefined;
  readonly #years = new WeakMap<
    Decoded,
    { readonly frame: Frame; readonly part: ReadPart<Year> }
  >();

  /** @param readYaml how the text of a file is read; who reads the same files for more may keep it */
  constructor(readYaml: (file: SourceFile) => YamlRead) {
    this.#readYaml = readYaml;
  }

  read(decoded: readonly Decoded[]): LedgerRead {
    const files = new Map(decoded.map((one) => [one.file.path, one]));
    const frame = this.#readFrame(files);
    const { trial, cultivars, trees } = frame.made;
    const parts: ReadPart<unknown>[] = [frame];
    const seasons: Season[] = [];
    const weather = new Map<number, readonly WeatherDay[]>();
    for (const [, one] of [...files].sort(([a], [b]) => (a < b ? -1 : 1))) {
      const part = this.#readYear(one, frame.made);
      const { season, days } = part.made;
      if (season !== undefined) seasons.push(season);
      if (days !== undefined) weather.set(...days);
      parts.push(part);
    }
    const diagnostics = onceWhereEmpty(files, frame.made, [
      ...decoded.flatMap((one) => one.diagnostics),
      ...parts.flatMap((part) => part.diagnostics),
    ]);
    const incomplete = new Set(parts.flatMap((part) => part.incomplete));
    for (const { file, diagnostics } of decoded) {
      if (diagnostics.length > 0) incomplete.add(file.path);
    }
    // An entry left out because of a name that leads nowhere is missing from its file's picture too.
    for (const { severity, at } of diagnostics)
      if (severity === 'error') incomplete.add(at.file.path);
    const ledger =
      trial &&
      Object.freeze({
        trial,
        cultivars: cultivars.listed,
        trees: trees.listed,
        walk: trees.walk,
        seasons: Object.freeze(seasons),
        weather: frozenMap(weather),
        files: sourcesOf(files),
        incomplete: frozenSet(incomplete),
      });
    return { ledger, diagnostics: sortedDiagnostics(located(diagnostics)) };
  }

  /** The same, but seasons and weather are read only when something of them is asked for. */
  readLater(decoded: readonly Decoded[]): LedgerRead {
    let read: LedgerRead | undefined;
    const files = new Map(decoded.map((one) => [one.file.path, one]));
    const { trial, cultivars, trees } = this.#readFrame(files).made;
    const frame = this.#frame;
    const whole = () => {
      // Other files may have been read meanwhile; the seasons must name the trees that are given here.
      this.#frame = frame;
      read ??= this.read(decoded);
      return read;
    };
    const ledger =
      trial &&
      Object.freeze({
        trial,
        cultivars: cultivars.listed,
        trees: trees.listed,
        walk: trees.walk,
        files: sourcesOf(files),
        get seasons() {
          return whole().ledger?.seasons ?? [];
        },
        get weather() {
          return whole().ledger?.weather ?? new Map();
        },
        get incomplete() {
          return whole().ledger?.incomplete ?? new Set<string>();
        },
      });
    return {
      ledger,
      get diagnostics() {
        return whole().diagnostics;
      },
    };
  }

  #readFrame(files: ReadonlyMap<string, Decoded>): ReadPart<Frame> {
    const from = FRAME_FILES.map((path) => files.get(path));
    const known = this.#frame;
    if (known?.from.every((one, at) => one === from[at])) return known.part;
    const part = partOf(files, this.#readYaml, readFrame);
    this.#frame = { from, part };
    return part;
  }

  #readYear(one: Decoded, frame: Frame): ReadPart<Year> {
    const known = this.#years.get(one);
    if (known?.frame === frame) return known.part;
    const { path } = one.file;
    const part = partOf(new Map([[path, one]]), this.#readYaml, (reading) =>
      readYear(reading, one, frame),
    );
    this.#years.set(one, { frame, part });
    return part;
  }
}

/** A list with nothing in it is told once, not for each entry that asks something of it. */
function onceWhereEmpty(
  files: ReadonlyMap<string, Decoded>,
  { cultivars, trees }: Frame,
  diagnostics: readonly Diagnostic[],
): readonly Diagnostic[] {
  const lists = [
    { path: 'cultivars.yaml', ...cultivars, rule: cultivarUnknown.rule },
    { path: 'trees.yaml', ...trees, rule: treeUnknown.rule },
  ] as const;
  return lists.reduce<readonly Diagnostic[]>((told, { path, listed, faulty, rule }) => {
    const file = files.get(path)?.file;
    if (file === undefined || listed.size > 0 || faulty.size > 0) return told;
    const others = told.filter((one) => one.rule !== rule);
    if (others.length === told.length) return told;
    const at = { file, start: 0, end: 0 };
    return [...others, diagnose(fileEmpty, at, { example: LIST_EXAMPLES[path] })];
  }, diagnostics);
}

function sourcesOf(files: ReadonlyMap<string, Decoded>): Ledger['files'] {
  return frozenMap(new Map([...files].map(([path, { file }]) => [path, file])));
}
