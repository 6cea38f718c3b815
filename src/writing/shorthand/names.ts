import { didYouMean } from '../../diagnostics/did-you-mean.ts';
import type { Cultivar, Tree } from '../../model/collection.ts';
import { COVERS, type Cover, type Crop, type Ledger } from '../../model/ledger.ts';

/** What a typed name leads to. */
export type Found<Thing> =
  | { readonly kind: 'one'; readonly thing: Thing }
  | { readonly kind: 'several'; readonly things: readonly Thing[] }
  | { readonly kind: 'none'; readonly nearest: string | undefined };

/** A tree by its id, in any case if only one fits, or by the key or a name of a cultivar with one tree. */
export function findTree(ledger: Ledger, typed: string): Found<Tree> {
  const exact = ledger.trees.get(typed);
  if (exact !== undefined) return { kind: 'one', thing: exact };
  const wanted = typed.toLowerCase();
  const trees = [...ledger.trees.values()];
  const byId = trees.filter((tree) => tree.id.toLowerCase() === wanted);
  const byCultivar = trees.filter(({ cultivar }) => isCalled(cultivar, wanted));
  const fitting = byId.length > 0 ? byId : byCultivar;
  const [first, ...others] = fitting;
  if (first === undefined) {
    const known = [...ledger.trees.keys(), ...trees.map((tree) => tree.cultivar.key)];
    return { kind: 'none', nearest: didYouMean(typed, known) };
  }
  return others.length === 0 ? { kind: 'one', thing: first } : { kind: 'several', things: fitting };
}

/** A cultivar by its key or one of its names. */
export function findCultivar(ledger: Ledger, typed: string): Found<Cultivar> {
  const exact = ledger.cultivars.get(typed);
  if (exact !== undefined) return { kind: 'one', thing: exact };
  const all = [...ledger.cultivars.values()];
  const fitting = all.filter((one) => isCalled(one, typed.toLowerCase()));
  const [first, ...others] = fitting;
  if (first === undefined) {
    const known = all.flatMap(({ key, name, also }) => [name, ...also, key]);
    return { kind: 'none', nearest: didYouMean(typed, known) };
  }
  return others.length === 0 ? { kind: 'one', thing: first } : { kind: 'several', things: fitting };
}

/** @param wanted in lower case */
function isCalled({ key, name, also }: Cultivar, wanted: string): boolean {
  const plain = plainQuotes(wanted);
  return [key, name, name.replaceAll(' ', '-'), ...also].some(
    (one) => plainQuotes(one.toLowerCase()) === plain,
  );
}

/** A telephone types another apostrophe than a computer. */
function plainQuotes(text: string): string {
  return text.replaceAll(/[\u2018\u2019]/g, "'");
}

/** What people call a place by what is overhead. */
const COVER_WORDS: Readonly<Record<Cover, readonly string[]>> = {
  glass: ['glasshouse', 'greenhouse', 'hothouse', 'conservatory'],
  tunnel: ['polytunnel', 'hoop-house'],
  indoors: ['inside', 'house'],
  open: ['outdoors', 'outside', 'open-ground'],
};

/** A site by its key or name, or by a word for its cover where one site alone has that. */
export function findSite({ trial: { sites } }: Ledger, typed: string): Found<string> {
  const named = findKey(sites, typed);
  if (named.kind !== 'none') return named;
  const wanted = typed.toLowerCase().replaceAll(' ', '-');
  const cover = COVERS.find((one) => one === wanted || COVER_WORDS[one].includes(wanted));
  const covered = [...sites.values()].filter((site) => site.cover === cover);
  const [first, ...others] = covered.map(({ key }) => key);
  if (first === undefined) {
    const nearest = didYouMean(
      typed,
      [...sites.values()].flatMap(({ key, name }) => [key, name]),
    );
    return { kind: 'none', nearest };
  }
  if (others.length === 0) return { kind: 'one', thing: first };
  return { kind: 'several', things: [first, ...others] };
}

/** Every name of several words, in lower case, with the number of its words. */
export function namesOfSeveralWords(ledger: Ledger): ReadonlyMap<string, number> {
  const known = SEVERAL.get(ledger);
  if (known !== undefined) return known;
  const { sites, tasters } = ledger.trial;
  const names = [
    ...[...ledger.cultivars.values()].flatMap(({ name, also }) => [name, ...also]),
    ...[...sites.values(), ...tasters.values()].map(({ name }) => name),
  ];
  const counted = new Map(
    names
      .map((name) => name.toLowerCase().split(/\s+/))
      .filter((words) => words.length > 1)
      .map((words): [string, number] => [words.join(' '), words.length]),
  );
  SEVERAL.set(ledger, counted);
  return counted;
}

const SEVERAL = new WeakMap<Ledger, ReadonlyMap<string, number>>();

/** The words that begin so, or the one that is meant letter for letter. */
export function findByBeginning(words: readonly string[], typed: string): readonly string[] {
  const exact = findWord(words, typed);
  if (exact !== undefined) return [exact];
  return words.filter((word) => word.toLowerCase().startsWith(typed.toLowerCase()));
}

/** A key of a map, in any case if only one fits, or by the name that stands behind it. */
export function findKey(
  map: ReadonlyMap<string, { readonly key: string; readonly name: string }>,
  typed: string,
): Found<string> {
  if (map.has(typed)) return { kind: 'one', thing: typed };
  const wanted = typed.toLowerCase();
  const fitting = [...map.values()].filter(
    ({ key, name }) => key.toLowerCase() === wanted || name.toLowerCase() === wanted,
  );
  const [first, ...others] = fitting;
  if (first !== undefined && others.length === 0) return { kind: 'one', thing: first.key };
  if (first !== undefined) return { kind: 'several', things: fitting.map(({ key }) => key) };
  return { kind: 'none', nearest: didYouMean(typed, map.keys()) };
}

/** A word of a list in any case. */
export function findWord(words: readonly string[], typed: string): string | undefined {
  if (words.includes(typed)) return typed;
  const fitting = words.filter((word) => word.toLowerCase() === typed.toLowerCase());
  return fitting.length === 1 ? fitting[0] : undefined;
}

/** A crop by the program's word or the ledger's own. */
export function findCrop(ledger: Ledger, typed: string): Crop | undefined {
  const { cropNames } = ledger.trial;
  const wanted = typed.toLowerCase();
  if (wanted === 'early' || wanted === cropNames.early.toLowerCase()) return 'early';
  if (wanted === 'main' || wanted === cropNames.main.toLowerCase()) return 'main';
  return undefined;
}

export function wordsForCrops(ledger: Ledger): readonly string[] {
  const { cropNames } = ledger.trial;
  return [...new Set(['early', 'main', cropNames.early, cropNames.main])];
}
