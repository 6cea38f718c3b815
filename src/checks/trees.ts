import { type Diagnostic, diagnose, wording } from '../diagnostics/diagnostic.ts';
import { namesInWords } from '../diagnostics/phrases.ts';
import { groupBy } from '../measure/group-by.ts';
import type { Tree } from '../model/collection.ts';
import { addDays, growingYear } from '../model/dates.ts';
import type { Growth } from '../model/entries.ts';
import type { Ledger, Season } from '../model/ledger.ts';
import { treeEntries } from '../model/season-entries.ts';
import { arrivalOf, siteOn } from '../model/standing.ts';
import { keyIn, spotIn } from '../source/source-file.ts';
import { quantityText } from './parts/quantity-text.ts';
import { byDateAndPlace, repeatsIn, wasCutBack } from './parts/tree-entries.ts';
import { isWholeSeason } from './parts/whole.ts';
import type { Rule } from './rule.ts';

const treeDatesCrossedWords = wording<{
  tree: string;
  key: string;
  date: string;
  beforeKey: string;
  beforeDate: string;
}>({
  rule: 'tree-dates-crossed',
  severity: 'error',
  why: 'A tree is received, then planted, then perhaps removed. Dates in another order put its entries before or after its life.',
  message: ({ tree, key, date, beforeKey, beforeDate }) =>
    `tree ${tree} is ${key} ${date}, before it was ${beforeKey} (${beforeDate})`,
  advice: ({ key, beforeKey }) => `correct \`${key}\` or \`${beforeKey}\``,
});

export const treeDatesCrossed: Rule = {
  words: [treeDatesCrossedWords],
  check: findTreeDatesCrossed,
};

const PAIRS = [
  ['received', 'planted'],
  ['received', 'removed'],
  ['planted', 'removed'],
] as const;

function* findTreeDatesCrossed(ledger: Ledger): Generator<Diagnostic> {
  for (const tree of ledger.trees.values()) {
    for (const [beforeKey, key] of PAIRS) {
      const before = tree[beforeKey];
      const date = tree[key];
      if (before === undefined || date === undefined) continue;
      if (date.latest >= before.earliest) continue;
      yield diagnose(treeDatesCrossedWords, spotIn(tree.at, key), {
        tree: tree.id,
        key,
        date: date.text,
        beforeKey,
        beforeDate: before.text,
      });
      // One crossed pair is enough to send the grower to the entry.
      break;
    }
  }
}

const moveNowhereWords = wording<{ tree: string; site: string; on: string }>({
  rule: 'move-nowhere',
  severity: 'hint',
  why: 'A move to the place where a tree already stands hints at a move left out or at the wrong tree.',
  message: ({ tree, site, on }) => `tree ${tree} already stood at ${site} before ${on}`,
  advice: () => 'correct the tree or the site, enter the move that is missing, or delete this one',
});

export const moveNowhere: Rule = { words: [moveNowhereWords], check: findMoveNowhere };

function* findMoveNowhere(ledger: Ledger): Generator<Diagnostic> {
  for (const season of ledger.seasons) {
    for (const event of season.events) {
      if (event.kind !== 'move' || event.target.kind !== 'tree') continue;
      const { tree } = event.target;
      if (siteOn(ledger, tree, addDays(event.on, -1)) !== event.site) continue;
      const site = ledger.trial.sites.get(event.site)?.name ?? event.site;
      const facts = { tree: tree.id, site, on: event.on };
      yield diagnose(moveNowhereWords, spotIn(event.at, 'site'), facts);
    }
  }
}

const girthShrinksWords = wording<{
  tree: string;
  girth: string;
  before: string;
  beforeOn: string;
}>({
  rule: 'girth-shrinks',
  severity: 'warning',
  why: 'A trunk does not grow thinner. Less than nine tenths of the girth before (common practice, no source), without winter damage or pruning in between, points to a slip or to another place on the trunk.',
  message: ({ tree, girth, before, beforeOn }) =>
    `girth of tree ${tree} is ${girth}, but was ${before} on ${beforeOn}`,
  advice: () => 'check both, and measure at the same height each time',
});

export const girthShrinks: Rule = { words: [girthShrinksWords], check: findGirthShrinks };

function* findGirthShrinks(ledger: Ledger): Generator<Diagnostic> {
  const measured = ledger.seasons
    .flatMap(({ growth }) => growth)
    .filter(({ girth }) => girth !== undefined);
  for (const entries of groupBy(measured, ({ tree }) => tree).values()) {
    let before: Growth | undefined;
    for (const now of byDateAndPlace(entries)) {
      if (before !== undefined) yield* compare(ledger, before, now);
      before = now;
    }
  }
}

function* compare(ledger: Ledger, before: Growth, now: Growth): Generator<Diagnostic> {
  if (before.girth === undefined || now.girth === undefined || before.on === now.on) return;
  if (now.girth >= 0.9 * before.girth) return;
  if (wasCutBack(ledger, now.tree, before.on, now.on)) return;
  const facts = {
    tree: now.tree.id,
    girth: quantityText(now.girth, 'girth', ledger.trial.units),
    before: quantityText(before.girth, 'girth', ledger.trial.units),
    beforeOn: before.on,
  };
  yield diagnose(girthShrinksWords, spotIn(now.at, 'girth'), facts, [
    { at: spotIn(before.at, 'girth'), label: 'measured before' },
  ]);
}

const girthRepeatWords = wording<{ tree: string; on: string; girth: string; before: string }>({
  rule: 'girth-repeat',
  severity: 'warning',
  why: 'A trunk has one girth a day. Of two, one alone is taken for the area of the trunk, and nobody chose it.',
  message: ({ tree, on, girth, before }) =>
    `girth of tree ${tree} is both ${before} and ${girth} on ${on}`,
  advice: () => 'keep the one that is right and delete the other, or correct its tree or date',
});

export const girthRepeat: Rule = { words: [girthRepeatWords], check: findGirthRepeat };

function* findGirthRepeat({ seasons, trial }: Ledger): Generator<Diagnostic> {
  for (const { growth } of seasons) {
    const measured = growth.filter(({ girth }) => girth !== undefined);
    for (const [now, before] of repeatsIn(measured, ({ tree, on }) => `${on} ${tree.id}`)) {
      if (now.girth === undefined || before.girth === undefined) continue;
      if (now.girth === before.girth) continue;
      const text = (girth: number) => quantityText(girth, 'girth', trial.units);
      const facts = {
        tree: now.tree.id,
        on: now.on,
        girth: text(now.girth),
        before: text(before.girth),
      };
      yield diagnose(girthRepeatWords, spotIn(now.at, 'girth'), facts, [
        { at: spotIn(before.at, 'girth'), label: 'the other one' },
      ]);
    }
  }
}

const treeSilentWords = wording<{ tree: string; seasons: readonly number[] }>({
  rule: 'tree-silent',
  severity: 'hint',
  why: 'A tree without entries counts as not looked at, not as one that bore nothing. Leaving out the trees that bore nothing flatters their cultivar.',
  message: ({ tree, seasons }) =>
    `tree ${tree} stood in ${namesInWords(seasons)} but has no entry there`,
  advice: () =>
    'if it bore nothing, enter a count with `fruit: 0`; if it is gone, say when: `removed: YYYY-MM-DD`',
});

/*
 * One remark a tree, over the seasons that are over and that it stood through. A young tree is
 * left in peace: nothing is said of the seasons before its first entry, nor of a tree never
 * entered until it has stood for three seasons.
 */
export const treeSilent: Rule = { words: [treeSilentWords], check: findTreeSilent };

/** Figs take some years to bear (common practice, no source for the number). */
const SETTLING_SEASONS = 3;

/** Without a clock: a season with entries in its last quarter is taken to be over. */
const LAST_QUARTER_DAYS = 92;

function* findTreeSilent(ledger: Ledger): Generator<Diagnostic> {
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
