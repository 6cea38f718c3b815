import type { Tree } from '../../model/collection.ts';
import type { Ledger, Season } from '../../model/ledger.ts';
import { type Fact, factsSection, type Section } from '../document.ts';
import { cultivarName } from '../names.ts';
import { counted, listed } from '../words.ts';

/**
 * Trees and cultivars that have entries in one of two seasons only. While the later one is open,
 * only a tree that was removed is gone; of the others there is no entry yet.
 */
export function arrivalsSection(
  ledger: Ledger,
  before: number,
  after: number,
  isOpen: boolean,
): Section {
  const former = treesIn(ledger, before);
  const latter = treesIn(ledger, after);
  const newTrees = [...latter].filter((tree) => !former.has(tree));
  const missing = [...former].filter((tree) => !latter.has(tree));
  const goneTrees = missing.filter(({ removed }) => !isOpen || removed !== undefined);
  const awaited = missing.filter((tree) => !goneTrees.includes(tree));
  const newCultivars = cultivarsOnlyIn(latter, former);
  const goneCultivars = cultivarsOnlyIn(new Set(goneTrees), new Set([...latter, ...awaited]));
  const names = (keys: readonly string[]) =>
    listed(
      keys.map((key) => nameOf(ledger, key)),
      MOST_NAMES,
    );
  const lines: readonly Fact[] = [
    { label: 'New cultivars', text: names(newCultivars) },
    { label: 'Cultivars gone', text: names(goneCultivars) },
    { label: 'New trees', text: newTrees.map((tree) => treeWords(ledger, tree)).join('; ') },
    {
      label: 'Trees gone',
      text: goneTrees
        .map((tree) => `${treeWords(ledger, tree)}, ${whyGone(tree, after)}`)
        .join('; '),
    },
    {
      label: `No entry yet in ${after}`,
      text:
        awaited.length === 0
          ? ''
          : `${counted(awaited.length, 'tree')} of ${names([...new Set(awaited.map(({ cultivar }) => cultivar.key))])}`,
    },
  ].filter(({ text }) => text !== '');
  const same = `The same ${counted(latter.size, 'tree')} as in ${before} have entries in ${after}.`;
  return factsSection({
    key: 'arrivals',
    heading: 'New and gone',
    facts: lines.length > 0 ? lines : [{ label: '', text: same }],
    says: {
      newCultivars,
      goneCultivars,
      newTrees: newTrees.map(({ id, cultivar }) => ({ tree: id, cultivar: cultivar.key })),
      awaitedTrees: awaited.map(({ id, cultivar }) => ({ tree: id, cultivar: cultivar.key })),
      goneTrees: goneTrees.map(({ id, cultivar, removed }) => ({
        tree: id,
        cultivar: cultivar.key,
        removed: removed?.text ?? null,
      })),
    },
  });
}

const MOST_NAMES = 12;

/** Trees with any entry in a season, in the ledger's order. */
function treesIn(ledger: Ledger, year: number): ReadonlySet<Tree> {
  const seen = new Set(
    ledger.seasons.filter((season) => season.year === year).flatMap((season) => treesOf(season)),
  );
  return new Set([...ledger.trees.values()].filter((tree) => seen.has(tree)));
}

function treesOf({ counts, picks, drops, growth, tastings, events }: Season): readonly Tree[] {
  return [
    ...[...counts, ...picks, ...drops, ...growth].map(({ tree }) => tree),
    ...tastings.flatMap(({ samples }) => samples.map(({ tree }) => tree)),
    ...events.flatMap(({ target }) => (target.kind === 'tree' ? [target.tree] : [])),
  ];
}

function cultivarsOnlyIn(trees: ReadonlySet<Tree>, others: ReadonlySet<Tree>): readonly string[] {
  const there = new Set([...others].map(({ cultivar }) => cultivar.key));
  const here = new Set([...trees].map(({ cultivar }) => cultivar.key));
  return [...here].filter((key) => !there.has(key));
}

function nameOf(ledger: Ledger, key: string): string {
  const cultivar = ledger.cultivars.get(key);
  return cultivar === undefined ? key : cultivarName(ledger, cultivar);
}

function treeWords(ledger: Ledger, { id, cultivar }: Tree): string {
  return `${id} (${cultivarName(ledger, cultivar)})`;
}

function whyGone({ removed }: Tree, year: number): string {
  return removed === undefined ? `no entry in ${year}` : `removed ${removed.text}`;
}
