import { type Diagnostic, diagnose } from '../diagnostics/diagnostic.ts';
import { treeSilentWords } from '../diagnostics/words/rules-trees.ts';
import type { Tree } from '../model/collection.ts';
import { addDays, growingYear } from '../model/dates.ts';
import type { Ledger, Season } from '../model/ledger.ts';
import { arrivalOf } from '../model/tree-life.ts';
import { keyIn } from '../source/source-file.ts';
import { treeEntries } from './parts/tree-entries.ts';
import { isWholeSeason } from './parts/whole.ts';
import type { Rule } from './rule.ts';

/*
 * One remark a tree, over the seasons that are over and that it stood through. A young tree is
 * left in peace: nothing is said of the seasons before its first entry, nor of a tree never
 * entered until it has stood for three seasons.
 */
export const treeSilent: Rule = { words: [treeSilentWords], check };

/** Figs take some years to bear (common practice, no source for the number). */
const SETTLING_SEASONS = 3;

/** Without a clock: a season with entries in its last quarter is taken to be over. */
const LAST_QUARTER_DAYS = 92;

function* check(ledger: Ledger): Generator<Diagnostic> {
  const seenIn = new Map<Season, ReadonlySet<Tree>>();
  const firstSeen = new Map<Tree, number>();
  for (const season of ledger.seasons) {
    const seen = new Set<Tree>();
    for (const { tree } of treeEntries(season)) {
      seen.add(tree);
      if (!firstSeen.has(tree)) firstSeen.set(tree, season.year);
    }
    seenIn.set(season, seen);
  }
  const over = ledger.seasons.filter((season) => isOver(ledger, season, seenIn));
  for (const tree of ledger.trees.values()) {
    const since = firstSeen.get(tree);
    const stood = over.filter((season) => stoodThrough(ledger, tree, season, since));
    if (since === undefined && stood.length < SETTLING_SEASONS) continue;
    const seasons = stood.filter((season) => !seenIn.get(season)?.has(tree));
    if (seasons.length === 0) continue;
    yield diagnose(treeSilentWords, keyIn(tree.at), {
      tree: tree.id,
      seasons: seasons.map(({ year }) => year),
    });
  }
}

function isOver(
  ledger: Ledger,
  season: Season,
  seenIn: ReadonlyMap<Season, ReadonlySet<Tree>>,
): boolean {
  if (!isWholeSeason(ledger, season) || seenIn.get(season)?.size === 0) return false;
  if (season !== ledger.seasons.at(-1)) return true;
  const { last } = growingYear(season.year, ledger.trial.place.latitude);
  const lastQuarter = addDays(last, -LAST_QUARTER_DAYS);
  return [...treeEntries(season)].some(({ on }) => on > lastQuarter);
}

function stoodThrough(
  { trial }: Ledger,
  tree: Tree,
  season: Season,
  firstSeen: number | undefined,
): boolean {
  const { first, last } = growingYear(season.year, trial.place.latitude);
  if (tree.removed !== undefined && tree.removed.earliest <= last) return false;
  if (firstSeen !== undefined && season.year < firstSeen) return false;
  const arrival = arrivalOf(tree);
  return arrival === undefined ? firstSeen !== undefined : arrival.date.latest < first;
}
