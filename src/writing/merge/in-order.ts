import { stepsBetween } from '../../source/line-steps.ts';
import { type Collection, type PartOrLine, partIn, type VersionPart } from './part.ts';
import type { Partners } from './partners.ts';

/** What goes into the joined collection at one place: a line or a part, as either side has it. */
export interface Unit {
  readonly x: PartOrLine | undefined;
  readonly y: PartOrLine | undefined;
  /** What the part was before, if it was there. */
  readonly before: VersionPart | undefined;
  /** Whether it was set in at a blank line, which is to stay where its neighbours are new. */
  readonly spaced: boolean;
}

/**
 * The tokens of two sides in one order, that of the first side; what the second side added goes
 * behind what it stands behind there. Where both added something at one place, parts with the lines
 * above them go by `compare`. Lines that one side took away are left out; of parts that one side
 * took away the unit has the other side alone.
 *
 * @param reordered whether the first side has its parts in an order of its own, so that what is new goes
 *   by `compare` alone
 */
export function inOrder(
  base: Collection | undefined,
  x: Collection,
  y: Collection,
  { before, twins }: Partners,
  compare: (a: VersionPart, b: VersionPart) => number,
  reordered?: true,
): readonly Unit[] {
  const names = new Names(before, twins);
  const [old, mine, theirs] = [base?.tokens ?? [], x.tokens, y.tokens].map((tokens) =>
    tokens.map((token) => names.of(token)),
  ) as [string[], string[], string[]];
  const [ofX, ofY] = [aligned(old, mine), aligned(old, theirs)];
  const keptByX = new Set(ofX.values());
  const keptByY = new Set(ofY.values());
  const twinOfX = new Map<number, number>(partTwins(x, y, twins));
  const pairLines = (mineAt: number, theirAt: number | undefined) => {
    const isLine = x.tokens[mineAt]?.kind === 'line';
    if (isLine && theirAt !== undefined) twinOfX.set(mineAt, theirAt);
  };
  for (const [oldAt, mineAt] of ofX) pairLines(mineAt, ofY.get(oldAt));
  for (const [mineAt, theirAt] of aligned(mine, theirs)) {
    if (!keptByX.has(mineAt) && !keptByY.has(theirAt)) pairLines(mineAt, theirAt);
  }
  const placeOfY = new Map([...twinOfX].map(([mineAt, theirAt]) => [theirAt, mineAt]));

  const unitOf = (xAt: number | undefined, yAt: number | undefined): Unit => {
    const [one, other] = [xAt, yAt].map((at, side) =>
      at === undefined ? undefined : (side === 0 ? x : y).tokens[at],
    );
    const part = partIn(one) ?? partIn(other);
    const tokens = one === undefined ? y.tokens : x.tokens;
    const above = tokens[(one === undefined ? (yAt ?? 0) : (xAt ?? 0)) - 1];
    return {
      x: one,
      y: other,
      before: part === undefined ? undefined : before.get(part),
      spaced: above?.kind === 'line' && above.text.trim() === '',
    };
  };

  const behind = new Map<number, Unit[]>();
  const put = (place: number, units: readonly Unit[]) => {
    const run = behind.get(place);
    if (run === undefined) behind.set(place, [...units]);
    else run.push(...units);
  };
  let anchor = -1;
  let loose: Unit[] = [];
  for (const [at, token] of y.tokens.entries()) {
    const place = placeOfY.get(at);
    if (place !== undefined) {
      put(anchor, loose);
      loose = [];
      anchor = place;
    } else if (token.kind === 'part') {
      const isNew = reordered !== undefined && !before.has(token.part);
      const last = (mine: PartOrLine, mineAt: number) =>
        mine.kind === 'part' && twinOfX.has(mineAt) && compare(mine.part, token.part) <= 0;
      put(isNew ? x.tokens.findLastIndex(last) : anchor, [...loose, unitOf(undefined, at)]);
      loose = [];
    } else if (!keptByY.has(at)) loose.push(unitOf(undefined, at));
  }
  put(anchor, loose);

  const units: Unit[] = [];
  let run: Unit[] = [];
  anchor = -1;
  const flush = () => {
    units.push(...joinedRuns(run, behind.get(anchor) ?? [], compare));
    run = [];
  };
  for (const [at, token] of x.tokens.entries()) {
    const twin = twinOfX.get(at);
    if (twin !== undefined) {
      flush();
      anchor = at;
      units.push(unitOf(at, twin));
    } else if (token.kind === 'part' || !keptByX.has(at)) run.push(unitOf(at, undefined));
  }
  flush();
  return units;
}

/** By the places of parts of the first side those of their twins. */
function partTwins(
  x: Collection,
  y: Collection,
  twins: ReadonlyMap<VersionPart, VersionPart>,
): readonly (readonly [number, number])[] {
  const places = new Map(x.tokens.map((one, at) => [partIn(one), at]));
  return y.tokens.flatMap((one, at) => {
    const part = partIn(one);
    const place = part && places.get(twins.get(part));
    return place === undefined || part === undefined || !twins.has(part)
      ? []
      : [[place, at] as const];
  });
}

/** One name for all versions of a part, and the text of a line for a line. */
class Names {
  readonly #names = new Map<VersionPart, string>();
  readonly #before: ReadonlyMap<VersionPart, VersionPart>;
  readonly #twins: ReadonlyMap<VersionPart, VersionPart>;

  constructor(
    before: ReadonlyMap<VersionPart, VersionPart>,
    twins: ReadonlyMap<VersionPart, VersionPart>,
  ) {
    this.#before = before;
    this.#twins = twins;
  }

  of(token: PartOrLine): string {
    if (token.kind === 'line') return token.text.trim();
    const twin = this.#twins.get(token.part) ?? token.part;
    const first = this.#before.get(twin) ?? twin;
    const known = this.#names.get(first) ?? `\n${this.#names.size}`;
    this.#names.set(first, known);
    return known;
  }
}

/** By indexes of the first list those of the second that stand for the same. */
function aligned(old: readonly string[], made: readonly string[]): ReadonlyMap<number, number> {
  const pairs = new Map<number, number>();
  let [from, to] = [0, 0];
  for (const { kind } of stepsBetween(old, made)) {
    if (kind === 'kept') pairs.set(from, to);
    if (kind !== 'come') from++;
    if (kind !== 'gone') to++;
  }
  return pairs;
}

/** What both sides added at one place: groups of a part with the lines above it, then loose lines. */
function joinedRuns(
  x: readonly Unit[],
  y: readonly Unit[],
  compare: (a: VersionPart, b: VersionPart) => number,
): readonly Unit[] {
  if (x.length === 0 || y.length === 0) return [...x, ...y];
  const [mine, theirs] = [groupsOf(x), groupsOf(y)];
  const joined: Unit[] = [];
  let [a, b] = [0, 0];
  while (a < mine.groups.length || b < theirs.groups.length) {
    const [one, other] = [mine.groups[a], theirs.groups[b]];
    const first = other === undefined || (one !== undefined && compare(one.part, other.part) <= 0);
    joined.push(...((first ? one : other)?.units ?? []));
    if (first) a++;
    else b++;
  }
  return [...joined, ...mine.loose, ...theirs.loose];
}

function groupsOf(run: readonly Unit[]) {
  const groups: { readonly part: VersionPart; readonly units: readonly Unit[] }[] = [];
  let units: Unit[] = [];
  for (const unit of run) {
    units.push(unit);
    const part = partIn(unit.x) ?? partIn(unit.y);
    if (part === undefined) continue;
    groups.push({ part, units });
    units = [];
  }
  return { groups, loose: units };
}
