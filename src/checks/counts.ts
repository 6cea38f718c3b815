import { type Diagnostic, diagnose, wording } from '../diagnostics/diagnostic.ts';
import { groupBy } from '../measure/group-by.ts';
import type { Count, Drop, Pick } from '../model/entries.ts';
import type { Ledger } from '../model/ledger.ts';
import { spotIn } from '../source/source-file.ts';
import { byDateAndPlace, repeatsIn, treeCrop, wasCutBack } from './parts/tree-entries.ts';
import { isWholeSeason } from './parts/whole.ts';
import type { Rule } from './rule.ts';

const countBranchesJumpWords = wording<{
  tree: string;
  crop: string;
  before: number;
  beforeOn: string;
  now: number;
}>({
  rule: 'count-branches-jump',
  severity: 'warning',
  why: 'Fruit per branch rests on the number of branches. Between two counts of a crop in a season it seldom changes by more than half unless the tree was pruned or died back (common practice, no source).',
  message: ({ tree, crop, before, beforeOn, now }) =>
    `tree ${tree} had ${before} branches for its ${crop} crop on ${beforeOn}, and now ${now}`,
  advice: () =>
    'count the branches in the same way each time; if it was pruned in between, enter that as an event',
});

/*
 * Counts are compared within a crop: the early crop hangs on last year's wood and the main crop on
 * this year's, so that their branches are rightly different ones.
 */
export const countBranchesJump: Rule = {
  words: [countBranchesJumpWords],
  check: findCountBranchesJump,
};

function* findCountBranchesJump(ledger: Ledger): Generator<Diagnostic> {
  for (const season of ledger.seasons) {
    const counted = season.counts.filter(({ branches }) => branches !== undefined);
    for (const counts of groupBy(counted, treeCrop).values()) {
      let before: Count | undefined;
      for (const now of byDateAndPlace(counts)) {
        if (before !== undefined) yield* compare(ledger, before, now);
        before = now;
      }
    }
  }
}

function* compare(ledger: Ledger, before: Count, now: Count): Generator<Diagnostic> {
  if (before.branches === undefined || now.branches === undefined) return;
  const change = Math.abs(now.branches - before.branches);
  if (change <= 2 || change <= before.branches / 2) return;
  if (wasCutBack(ledger, now.tree, before.on, now.on)) return;
  const facts = {
    tree: now.tree.id,
    crop: ledger.trial.cropNames[now.crop],
    before: before.branches,
    beforeOn: before.on,
    now: now.branches,
  };
  yield diagnose(countBranchesJumpWords, spotIn(now.at, 'branches'), facts, [
    { at: spotIn(before.at, 'branches'), label: 'the count before' },
  ]);
}

const countRepeatWords = wording<{ tree: string; crop: string; on: string }>({
  rule: 'count-repeat',
  severity: 'warning',
  why: 'A tree is counted once a day for a crop. Of two counts the greater would be taken as its load.',
  message: ({ tree, crop, on }) => `the ${crop} crop of tree ${tree} is counted twice on ${on}`,
  advice: () => 'keep the count that is right and delete the other, or correct its tree or date',
});

export const countRepeat: Rule = { words: [countRepeatWords], check: findCountRepeat };

function* findCountRepeat(ledger: Ledger): Generator<Diagnostic> {
  for (const season of ledger.seasons) {
    const repeats = repeatsIn(season.counts, (count) => `${count.on} ${treeCrop(count)}`);
    for (const [{ tree, on, crop, at }, first] of repeats) {
      const facts = { tree: tree.id, crop: ledger.trial.cropNames[crop], on };
      yield diagnose(countRepeatWords, at, facts, [{ at: first.at, label: 'the first count' }]);
    }
  }
}

const dropRepeatWords = wording<{ tree: string; crop: string; on: string; fruit: number }>({
  rule: 'drop-repeat',
  severity: 'warning',
  why: 'The same drop typed twice doubles the fruit lost, and with it the load.',
  message: ({ tree, crop, on, fruit }) =>
    `${fruit} dropped ${crop} fruit of tree ${tree} on ${on} are entered twice`,
  advice: () => 'delete one; if fruit dropped twice that day, add them into one drop',
});

export const dropRepeat: Rule = { words: [dropRepeatWords], check: findDropRepeat };

function* findDropRepeat(ledger: Ledger): Generator<Diagnostic> {
  for (const season of ledger.seasons) {
    const keyOf = (drop: Drop) => `${drop.on} ${drop.fruit} ${treeCrop(drop)}`;
    for (const [{ tree, on, crop, fruit, at }, first] of repeatsIn(season.drops, keyOf)) {
      const facts = { tree: tree.id, crop: ledger.trial.cropNames[crop], on, fruit };
      yield diagnose(dropRepeatWords, at, facts, [{ at: first.at, label: 'the first one' }]);
    }
  }
}

const pickExceedsCountWords = wording<{
  tree: string;
  crop: string;
  gone: number;
  counted: number;
  countedOn: string;
}>({
  rule: 'pick-exceeds-count',
  severity: 'warning',
  why: 'Fruit picked and dropped from the day of the last count on were hanging that day, or set later. More than a tenth and more than two fruit over the count (common practice, no source) points to a slip or to a late set that was never counted.',
  message: ({ tree, crop, gone, counted, countedOn }) =>
    `${gone} ${crop} fruit of tree ${tree} picked or dropped since ${countedOn}, when only ${counted} were counted`,
  advice: () =>
    'check the tree, crop and numbers; if more fruit set later, enter a later count if you made one',
});

export const pickExceedsCount: Rule = {
  words: [pickExceedsCountWords],
  check: findPickExceedsCount,
};

function* findPickExceedsCount(ledger: Ledger): Generator<Diagnostic> {
  for (const season of ledger.seasons) {
    if (!isWholeSeason(ledger, season)) continue;
    const gone = groupBy<Pick | Drop, string>([...season.picks, ...season.drops], treeCrop);
    for (const [key, counts] of groupBy(season.counts, treeCrop)) {
      const last = counts.reduce((a, b) => (isLater(b, a) ? b : a));
      const over = firstOver(last, gone.get(key) ?? []);
      if (over === undefined) continue;
      const facts = {
        tree: last.tree.id,
        crop: ledger.trial.cropNames[last.crop],
        gone: over.total,
        counted: last.fruit,
        countedOn: last.on,
      };
      yield diagnose(pickExceedsCountWords, over.entry.at, facts, [
        { at: spotIn(last.at, 'fruit'), label: 'the last count' },
      ]);
    }
  }
}

/** Of two counts on one day the greater one speaks for the tree. */
function isLater(one: Count, other: Count): boolean {
  return one.on > other.on || (one.on === other.on && one.fruit > other.fruit);
}

/** The entry with which more fruit had gone than hung at the last count, and all that went. */
function firstOver(
  count: Count,
  entries: readonly (Pick | Drop)[],
): { readonly entry: Pick | Drop; readonly total: number } | undefined {
  const allowed = count.fruit + Math.max(2, count.fruit / 10);
  let total = 0;
  let first: Pick | Drop | undefined;
  for (const entry of byDateAndPlace(entries)) {
    // A count is of what hangs before anything is picked that day.
    if (entry.on < count.on) continue;
    total += entry.fruit;
    if (total > allowed) first ??= entry;
  }
  return first === undefined ? undefined : { entry: first, total };
}
