import { EDGE } from '../../judge/index/simulation.ts';
import { CROPS } from '../../model/ledger.ts';
import { countColumn, numberColumn, textColumn } from '../columns.ts';
import { note } from '../common-notes.ts';
import { withCropWords } from '../crop-words.ts';
import { type Section, tableSection } from '../document.ts';
import { cultivarName } from '../names.ts';
import { forPeople, numberIn } from '../row-columns.ts';
import type { Cell, Column, Note, Row } from '../table.ts';
import { counted } from '../words.ts';
import type { ComparedSide, TwoSides } from './figures-section.ts';

/** The rank of one cultivar's crop, before and after. */
export interface RankMove {
  /** Key. */
  readonly cultivar: string;
  readonly name: string;
  readonly crop: string;
  readonly before: Row | undefined;
  readonly after: Row | undefined;
  /** Places won; negative if lost; undefined unless it is ranked both times. */
  readonly places: number | undefined;
}

/** Ranks of both sides, crops apart, and within a crop the longest way first. */
export async function rankMoves(comparison: TwoSides): Promise<readonly RankMove[]> {
  const befores = await rankRows(comparison, comparison.before);
  const afters = await rankRows(comparison, comparison.after);
  const keys = [...new Set([...afters.keys(), ...befores.keys()])];
  return keys
    .map((key): RankMove => {
      const before = befores.get(key);
      const after = afters.get(key);
      const [from, to] = [numberIn(before?.row, 'rank'), numberIn(after?.row, 'rank')];
      return {
        cultivar: after?.cultivar ?? before?.cultivar ?? '',
        name: after?.name ?? before?.name ?? '',
        crop: String((after ?? before)?.row['crop'] ?? ''),
        before: before?.row,
        after: after?.row,
        places: from === undefined || to === undefined ? undefined : from - to,
      };
    })
    .toSorted((a, b) => cropPlace(a) - cropPlace(b) || way(b) - way(a));
}

function cropPlace({ crop }: RankMove): number {
  return crop === 'early' ? 0 : 1;
}

function way({ places = 0 }: RankMove): number {
  return Math.abs(places);
}

interface Told {
  readonly cultivar: string;
  readonly name: string;
  readonly row: Row;
}

async function rankRows(
  { rank, confidence }: TwoSides,
  { ledger, selection }: ComparedSide,
): Promise<ReadonlyMap<string, Told>> {
  const report = await rank(ledger, { selection, by: [], confidence });
  const keys = new Map(
    [...ledger.cultivars.values()].map((one) => [cultivarName(ledger, one), one.key]),
  );
  return new Map(
    report.rows.map((row) => {
      const name = String(row['cultivar'] ?? '');
      const cultivar = keys.get(name) ?? name;
      return [`${row['crop']} ${cultivar}`, { cultivar, name, row }];
    }),
  );
}

/**
 * Those of which the index moved by more than the simulation alone may move it, or came or went, and those that one
 * of these has overtaken.
 */
export function truly(moves: readonly RankMove[]): readonly RankMove[] {
  const moved = moves.filter(isIndexMoved);
  return moves.filter(
    (one) =>
      moved.includes(one) ||
      (one.places !== 0 && moved.some((other) => other.crop === one.crop && hasPassed(other, one))),
  );
}

function isIndexMoved({ before, after }: RankMove): boolean {
  const [from, to] = [numberIn(before, 'index'), numberIn(after, 'index')];
  if (from === undefined || to === undefined) return from !== to;
  const errors = [before, after].map((row) => numberIn(row, 'indexError') ?? 0);
  return Math.abs(to - from) > EDGE * Math.hypot(...errors);
}

/** Whether two have changed places, or one has come or gone above the other. */
function hasPassed(other: RankMove, one: RankMove): boolean {
  const isAbove = (side: 'before' | 'after') =>
    (numberIn(other[side], 'rank') ?? Number.POSITIVE_INFINITY) <
    (numberIn(one[side], 'rank') ?? Number.POSITIVE_INFINITY);
  return isAbove('before') !== isAbove('after');
}

/** The table of some moves; `extra` cells stand behind the others. */
export function rankMovesSection(
  { before, after, top }: TwoSides,
  moves: readonly RankMove[],
  ifEmpty: string,
  extra: readonly (readonly [Column, (move: RankMove) => Cell])[] = [],
): Section {
  const rows = firstOfEach(moves, top).map((move): Row => {
    const index = [numberIn(move.before, 'index'), numberIn(move.after, 'index')] as const;
    return {
      cultivar: move.name,
      crop: move.crop,
      rankBefore: numberIn(move.before, 'rank') ?? null,
      rankAfter: numberIn(move.after, 'rank') ?? null,
      places: move.places ?? null,
      moved: movedWords(move),
      indexBefore: index[0] ?? null,
      indexAfter: index[1] ?? null,
      indexChange: index[0] === undefined || index[1] === undefined ? null : index[1] - index[0],
      apart: isApart(move),
      ...Object.fromEntries(extra.map(([column, cellOf]) => [column.key, cellOf(move)])),
    };
  });
  const columns: readonly Column[] = [
    textColumn('crop', { label: 'Crop', drop: 0 }),
    textColumn('cultivar', { label: 'Cultivar', drop: 0 }),
    countColumn('rankBefore', { label: `Rank ${before.label}`, drop: 0 }),
    countColumn('rankAfter', { label: `Rank ${after.label}`, drop: 0 }),
    { ...countColumn('places', { label: 'Places', drop: 9 }), machineOnly: true },
    textColumn('moved', { label: 'Moved', drop: 0 }),
    numberColumn('indexBefore', 1, { label: `Index ${before.label}`, drop: 2 }),
    numberColumn('indexAfter', 1, { label: `Index ${after.label}`, drop: 2 }),
    numberColumn('indexChange', 2, { label: 'Index change', drop: 3 }),
    // Where none are, the words above the table have said so.
    {
      ...textColumn('apart', { label: 'Intervals apart', drop: 1 }),
      ...(rows.some((row) => row['apart'] === true) ? {} : { machineOnly: true }),
    },
    ...extra.map(([column]) => column),
  ];
  return tableSection({
    key: 'ranks',
    heading: 'Ranks',
    table: { columns: withCropWords(after.ledger, {}, forPeople(columns, rows, [])), rows },
    ifEmpty,
  });
}

/** That there are more rows than are shown, where there are. */
export function topNote(
  { top }: TwoSides,
  tables: readonly (readonly { readonly crop: string }[])[],
): Note | undefined {
  const isCut = tables.some((rows) =>
    CROPS.some((crop) => rows.filter((row) => row.crop === crop).length > top),
  );
  return isCut
    ? note(
        'evidence',
        `At most ${counted(top, 'row')} of each crop ${top === 1 ? 'stands' : 'stand'} in a table; --top shows more.`,
      )
    : undefined;
}

function firstOfEach(moves: readonly RankMove[], top: number): readonly RankMove[] {
  return CROPS.flatMap((crop) => moves.filter((move) => move.crop === crop).slice(0, top));
}

function movedWords({ before, after, places }: RankMove): string {
  if (places !== undefined) {
    return places === 0 ? 'same place' : `${places > 0 ? 'up' : 'down'} ${Math.abs(places)}`;
  }
  if (numberIn(after, 'rank') !== undefined) return 'newly ranked';
  return numberIn(before, 'rank') === undefined ? 'not ranked' : 'not ranked after';
}

/** Whether the intervals of the two ranks have nothing in common; null where there are none. */
export function isApart({ before, after }: RankMove): boolean | null {
  const [low, high] = [numberIn(before, 'rankLow'), numberIn(before, 'rankHigh')];
  const [newLow, newHigh] = [numberIn(after, 'rankLow'), numberIn(after, 'rankHigh')];
  if (low === undefined || high === undefined) return null;
  return newLow === undefined || newHigh === undefined ? null : newLow > high || newHigh < low;
}
