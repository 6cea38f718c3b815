import type { Selection } from '../../measure/selection.ts';
import type { Cultivar } from '../../model/collection.ts';
import type { Ledger } from '../../model/ledger.ts';
import { connectedGroups } from '../../stats/numbers/connected-groups.ts';
import { alignmentDistance } from '../../stats/words/alignment-distance.ts';

/** One of several gardens that are judged together. */
export interface PoolGarden {
  /** What people call it, unlike any other of them. */
  readonly name: string;
  readonly ledger: Ledger;
  /** What of it is looked at: seasons, sites. */
  readonly selection: Selection;
}

/** A cultivar of one of the gardens. */
export interface Member {
  /** Which of the gardens. */
  readonly garden: number;
  readonly cultivar: Cultivar;
}

/** A cultivar over all gardens. */
export interface PooledCultivar {
  /** As it is called at home, else by most; with its garden behind where one at home, or elsewhere, is called the same. */
  readonly name: string;
  /** At most one a garden, in their order. */
  readonly members: readonly Member[];
}

/** Names of which `also` would make one cultivar of two that a garden keeps apart: they are joined by name alone. */
export interface NameConflict {
  readonly garden: number;
  readonly kept: readonly Cultivar[];
  /** Gardens whose names say that they are the same. */
  readonly against: readonly Member[];
}

/** Two that were not joined, and may be one. */
export interface PerhapsSame {
  readonly one: number;
  readonly other: number;
  readonly why: 'spelling' | 'words' | 'no-name';
}

/** A garden is in doubt whether two of its cultivars are one, and another garden grows one of them too. */
export interface SharedDoubt {
  readonly one: number;
  readonly other: number;
  readonly garden: number;
  readonly why: string | undefined;
}

export interface SameCultivars {
  readonly cultivars: readonly PooledCultivar[];
  readonly conflicts: readonly NameConflict[];
  readonly alike: readonly PerhapsSame[];
  readonly doubts: readonly SharedDoubt[];
}

interface Known extends Member {
  readonly plain: string;
  readonly also: readonly string[];
}

/**
 * Which cultivars of several gardens are the same: by name or by `also`, letters alone; never by a doubt, and never so
 * that two which one garden keeps apart become one. Labels that stand for no name join nothing.
 */
export function sameCultivars(gardens: readonly PoolGarden[]): SameCultivars {
  const known = gardens.flatMap(({ ledger }, garden) =>
    [...ledger.cultivars.values()].map(
      (cultivar): Known => ({
        garden,
        cultivar,
        plain: plainName(cultivar.name),
        also: cultivar.also.map(plainName),
      }),
    ),
  );
  const byName = joined(known, ({ cultivar, plain }) => (isNoName(cultivar.name) ? [] : [plain]));
  const conflicts: NameConflict[] = [];
  const groups = joined(known, ({ cultivar, plain, also }) =>
    isNoName(cultivar.name) ? also : [plain, ...also],
  ).flatMap((group) => {
    const twice = keptApart(group);
    if (twice === undefined) return [group];
    conflicts.push(twice);
    const members = new Set(group);
    // Where even the names are not enough, each stands alone.
    return byName
      .filter((one) => one.some((member) => members.has(member)))
      .flatMap((one) => (keptApart(one) === undefined ? [one] : one.map((member) => [member])));
  });
  const names = groups.map(nameOf);
  const cultivars = groups.map((members, at) => {
    const name = names[at] as string;
    const [first] = members;
    const isShared = first?.garden !== 0 && names.indexOf(name) !== names.lastIndexOf(name);
    // Two of one name that are not one, such as labels for what has no name.
    return { name: isShared ? `${name} (${gardens[first?.garden ?? 0]?.name})` : name, members };
  });
  return { cultivars, conflicts, alike: likenesses(groups), doubts: doubtsOf(gardens, cultivars) };
}

/** What two spellings of a name have in common: its letters and digits, without accents and case. */
export function plainName(name: string): string {
  return name
    .normalize('NFKD')
    .toLowerCase()
    .replace(/[^\p{L}\p{N}]/gu, '');
}

const NO_NAMES = /^(unlabell?ed|unnamed|unknown|nameless|noname|nolabel|mystery|seedling)/;

/** Whether it is a label for what has no name, such as "Unlabelled #3": two gardens may both have one. */
export function isNoName(name: string): boolean {
  return NO_NAMES.test(plainName(name));
}

/** Groups of those that share a word, directly or through others, in order of their first. */
function joined(known: readonly Known[], wordsOf: (one: Known) => readonly string[]): Known[][] {
  const byWord = new Map<string, number[]>();
  known.forEach((one, at) => {
    for (const word of wordsOf(one)) byWord.set(word, [...(byWord.get(word) ?? []), at]);
  });
  const groups = connectedGroups(known.length, byWord.values());
  return groups.map((group) => group.map((at) => known[at] as Known));
}

/** Two of one garden in a group that should have one of each. */
function keptApart(group: readonly Known[]): NameConflict | undefined {
  const gardens = group.map(({ garden }) => garden);
  const garden = gardens.find((one, at) => gardens.indexOf(one) !== at);
  if (garden === undefined) return undefined;
  return {
    garden,
    kept: group.filter((one) => one.garden === garden).map(({ cultivar }) => cultivar),
    against: group.filter((one) => one.garden !== garden),
  };
}

function nameOf(members: readonly Member[]): string {
  const home = members.find(({ garden }) => garden === 0);
  if (home !== undefined) return home.cultivar.name;
  const names = members.map(({ cultivar }) => cultivar.name);
  const count = (name: string) => names.filter((one) => one === name).length;
  return names.reduce((best, name) => (count(name) > count(best) ? name : best));
}

function likenesses(groups: readonly (readonly Known[])[]): PerhapsSame[] {
  const forms = groups.map((group) =>
    group.flatMap(({ cultivar }) =>
      [cultivar.name, ...cultivar.also].map((name) => ({
        plain: plainName(name),
        digits: name.replace(/\D/g, ''),
        words: wordsOf(name),
        isNoName: isNoName(name),
      })),
    ),
  );
  const found: PerhapsSame[] = [];
  groups.forEach((group, one) => {
    for (let other = one + 1; other < groups.length; other++) {
      const beside = groups[other] as readonly Known[];
      // What stands in one garden under two names is two there, whatever the names.
      if (group.some(({ garden }) => beside.some((member) => member.garden === garden))) continue;
      const why = forms[one]?.flatMap((a) =>
        (forms[other] ?? []).flatMap((b) => {
          if (a.digits !== b.digits) return [];
          if (a.isNoName || b.isNoName) return a.plain === b.plain ? ['no-name' as const] : [];
          if (a.words === b.words) return ['words' as const];
          return isNear(a.plain, b.plain) ? ['spelling' as const] : [];
        }),
      )[0];
      if (why !== undefined) found.push({ one, other, why });
    }
  });
  return found;
}

/** The words of a name in one order, whatever theirs. */
function wordsOf(name: string): string {
  return name
    .split(/[\s-]+/u)
    .map(plainName)
    .filter((word) => word !== '')
    .toSorted()
    .join(' ');
}

/** One slip in a short name, two in one of eight letters and more. */
function isNear(a: string, b: string): boolean {
  const shorter = Math.min(a.length, b.length);
  const allowed = shorter >= 8 ? 2 : shorter >= 4 ? 1 : 0;
  if (Math.abs(a.length - b.length) > allowed) return false;
  return alignmentDistance(a, b) <= allowed;
}

function doubtsOf(
  gardens: readonly PoolGarden[],
  cultivars: readonly PooledCultivar[],
): SharedDoubt[] {
  const placeOf = new Map(
    cultivars.flatMap(({ members }, at) => members.map(({ cultivar }) => [cultivar, at] as const)),
  );
  return gardens.flatMap(({ ledger }, garden) =>
    [...ledger.cultivars.values()].flatMap((cultivar): SharedDoubt[] => {
      const { perhaps } = cultivar;
      const same = perhaps && ledger.cultivars.get(perhaps.sameAs);
      const [one, other] = [placeOf.get(cultivar), same && placeOf.get(same)];
      if (perhaps === undefined || one === undefined || other === undefined) return [];
      const isShared = [one, other].some((at) => (cultivars[at]?.members.length ?? 0) > 1);
      return isShared ? [{ one, other, garden, why: perhaps.why }] : [];
    }),
  );
}
