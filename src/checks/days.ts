import { type Diagnostic, diagnose, wording } from '../diagnostics/diagnostic.ts';
import { growingYear, seasonOf } from '../model/dates.ts';
import type { Ledger } from '../model/ledger.ts';
import { listsIn, treeEntries } from '../model/season-entries.ts';
import { arrivalOf } from '../model/standing.ts';
import { spotIn } from '../source/source-file.ts';
import { treeOrDate } from './parts/tree-entries.ts';
import { areWhole } from './parts/whole.ts';
import type { Rule } from './rule.ts';

const entryAfterRemovalWords = wording<{ on: string; tree: string; removed: string }>({
  rule: 'entry-after-removal',
  severity: 'error',
  why: 'Nothing can be seen on a tree after it was taken out. Fruit keeps, so a tasting is questioned only when the tree was gone before the season began.',
  message: ({ on, tree, removed }) =>
    `${on} is after tree ${tree} was removed (${removed} in trees.yaml)`,
  advice: () => 'correct the date or the tree here, or `removed` in trees.yaml',
});

export const entryAfterRemoval: Rule = {
  words: [entryAfterRemovalWords],
  check: findEntryAfterRemoval,
};

function* findEntryAfterRemoval(ledger: Ledger): Generator<Diagnostic> {
  for (const season of ledger.seasons) {
    const { first } = growingYear(season.year, ledger.trial.place.latitude);
    for (const entry of treeEntries(season)) {
      const { sample, tree, on } = entry;
      if (tree.removed === undefined) continue;
      // Fruit can be tasted after its tree is gone, but not in a season that the tree never saw.
      const seen = sample === undefined ? on : first;
      if (seen <= tree.removed.latest) continue;
      const facts = { on, tree: tree.id, removed: tree.removed.text };
      yield diagnose(entryAfterRemovalWords, treeOrDate(entry), facts, [
        { at: spotIn(tree.at, 'removed'), label: 'removed here' },
      ]);
    }
  }
}

const entryBeforeTreeWords = wording<{
  on: string;
  tree: string;
  since: string;
  key: 'received' | 'planted';
}>({
  rule: 'entry-before-tree',
  severity: 'error',
  why: 'Nothing can be seen on a tree before it came. The date of the entry, the tree or the date in trees.yaml is wrong.',
  message: ({ on, tree, since, key }) =>
    `${on} is before tree ${tree} was ${key} (${since} in trees.yaml)`,
  advice: ({ key }) => `correct the date or the tree here, or \`${key}\` in trees.yaml`,
});

export const entryBeforeTree: Rule = { words: [entryBeforeTreeWords], check: findEntryBeforeTree };

function* findEntryBeforeTree(ledger: Ledger): Generator<Diagnostic> {
  for (const season of ledger.seasons) {
    for (const entry of treeEntries(season)) {
      const { tree, on } = entry;
      const arrival = arrivalOf(tree);
      if (arrival === undefined || on >= arrival.date.earliest) continue;
      const { key, date } = arrival;
      const facts = { on, tree: tree.id, since: date.text, key };
      yield diagnose(entryBeforeTreeWords, treeOrDate(entry), facts, [
        { at: spotIn(tree.at, key), label: `${key} here` },
      ]);
    }
  }
}

const entryOutsideSeasonWords = wording<{
  on: string;
  season: number;
  first: string;
  last: string;
  belongs: number;
}>({
  rule: 'entry-outside-season',
  severity: 'error',
  why: 'A season file holds one growing year: January to December north of the equator, July to June south of it. An entry of another year would be counted in the wrong season.',
  message: ({ on, season, first, last }) =>
    `${on} is outside season ${season}, which runs from ${first} to ${last}`,
  advice: ({ belongs }) => `correct the date, or move the entry to seasons/${belongs}.yaml`,
});

export const entryOutsideSeason: Rule = {
  words: [entryOutsideSeasonWords],
  check: findEntryOutsideSeason,
};

function* findEntryOutsideSeason(ledger: Ledger): Generator<Diagnostic> {
  const { latitude } = ledger.trial.place;
  // Where the latitude itself is a slip, nobody can say when the growing year begins.
  if (latitude === undefined && !areWhole(ledger, 'ledger.yaml')) return;
  for (const season of ledger.seasons) {
    const { first, last } = growingYear(season.year, latitude);
    for (const { on, at } of listsIn(season).flat()) {
      if (on >= first && on <= last) continue;
      yield diagnose(entryOutsideSeasonWords, spotIn(at, 'on'), {
        on,
        season: season.year,
        first,
        last,
        belongs: seasonOf(on, latitude),
      });
    }
  }
}
