import { type FigureMove, MOVED_FIGURES } from '../../judge/figure-moves.ts';
import { selectRecords } from '../../measure/crop-record.ts';
import { openSeason } from '../../measure/under-way.ts';
import type { Tree } from '../../model/collection.ts';
import { seasonOf } from '../../model/dates.ts';
import type { Ledger } from '../../model/ledger.ts';
import { treeEntries } from '../../model/season-entries.ts';
import { note, notesInOrder } from '../common-notes.ts';
import { dayAndYear, soFarNote } from '../day-words.ts';
import { type Document, type Fact, factsSection, type Section } from '../document.ts';
import { cultivarName } from '../names.ts';
import { selectionWords } from '../report-request.ts';
import { numberIn } from '../row-columns.ts';
import { counted, listed } from '../words.ts';
import { figureSection, type TwoSides } from './figures-section.ts';
import { allFigureMoves, type MovesByFigure, movedLines, shiftsSaid } from './moved-sections.ts';
import { type RankMove, rankMoves, rankMovesSection, topNote } from './rank-moves.ts';

/**
 * What is different between two seasons of a ledger: who came and went, whose rank moved, which
 * figures moved most. Figures are those of trees that have them in both seasons at the same site.
 */
export async function seasonChanges(
  comparison: TwoSides,
  before: number,
  after: number,
): Promise<Document> {
  const { ledger, selection } = comparison.after;
  const moves = allFigureMoves(comparison, true);
  const isOpen = openSeason(ledger, comparison.today) === after;
  const ranks = await rankMoves(comparison);
  // Of a season that has just begun every cultivar would stand there as ranked no more.
  const toShow =
    isOpen && ranks.every((move) => numberIn(move.after, 'rank') === undefined) ? [] : ranks;
  return {
    report: 'changes',
    title: `From ${before} to ${after}`,
    ledgerTitle: ledger.trial.title,
    selection: {
      ...selectionWords({ selection, by: [], confidence: comparison.confidence }, []),
      against: before,
      top: comparison.top,
    },
    sections: [
      inShort(comparison, ranks, moves),
      arrivalsSection(ledger, before, after, isOpen),
      rankMovesSection(
        comparison,
        toShow,
        ranks.length === toShow.length
          ? 'Nothing could be ranked in either season.'
          : `Nothing can be ranked by ${after} yet.`,
      ),
      ...MOVED_FIGURES.map((figure) =>
        figureSection(
          comparison,
          figure,
          onlyMoved(moves.get(figure) ?? []),
          whyEmpty(moves.get(figure) ?? [], before, after),
        ),
      ),
    ],
    notes: notesInOrder([
      soFarNote(ledger, comparison, selectRecords(ledger, selection)),
      note('method', `Ranks: by the entries of ${before} alone and of ${after} alone.`),
      note(
        'method',
        'Figures: only of trees that have the figure in both seasons at the same site, so they may differ from other tables. The greatest changes stand first.',
      ),
      topNote(comparison, [
        toShow,
        ...MOVED_FIGURES.map((figure) => onlyMoved(moves.get(figure) ?? [])),
      ]),
      note(
        'caution',
        'What moves most cultivars the same way is more likely the year than the cultivar; and with one tree of each, chance moves figures as far.',
      ),
    ]),
  };
}

/** No cultivar with the figure in both seasons is no cultivar that stayed the same. */
function whyEmpty(moves: readonly FigureMove[], before: number, after: number): string {
  const where = `with trees at the same site in ${before} and ${after}`;
  return moves.some(({ change }) => change !== undefined)
    ? `It moved in no cultivar ${where}.`
    : `No cultivar ${where} has it in both.`;
}

function onlyMoved(moves: readonly FigureMove[]): readonly FigureMove[] {
  return moves.filter(({ change }) => change !== undefined && change !== 0);
}

function inShort(comparison: TwoSides, ranks: readonly RankMove[], moves: MovesByFigure): Section {
  const lines = movedLines(comparison, ranks, moves);
  return factsSection({
    key: 'inShort',
    heading: 'In short',
    facts: lines.length > 0 ? lines : [{ label: '', text: 'Nothing can be compared.' }],
    says: shiftsSaid(moves),
  });
}

/**
 * Trees and cultivars that have entries in one of two seasons only. While the later one is open,
 * only a tree that was removed is gone; of the others there is no entry yet.
 */
function arrivalsSection(ledger: Ledger, before: number, after: number, isOpen: boolean): Section {
  const former = treesIn(ledger, before);
  const latter = treesIn(ledger, after);
  const newTrees = [...latter].filter((tree) => !former.has(tree));
  const missing = [...former].filter((tree) => !latter.has(tree));
  const { latitude } = ledger.trial.place;
  // One that bore this season and was then taken out is gone as well.
  const takenOut = [...latter].filter(
    ({ removed }) =>
      removed !== undefined && before < after && seasonOf(removed.earliest, latitude) === after,
  );
  const left = missing.filter(({ removed }) => !isOpen || removed !== undefined);
  const goneTrees = [...left, ...takenOut];
  const awaited = missing.filter((tree) => !left.includes(tree));
  const newCultivars = cultivarsOnlyIn(latter, former);
  const goneCultivars = cultivarsOnlyIn(new Set(left), new Set([...latter, ...awaited]));
  const names = (keys: readonly string[]) =>
    listed(
      keys.map((key) => nameOf(ledger, key)),
      MOST_NAMES,
    );
  const lines: readonly Fact[] = [
    { label: `Cultivars not seen in ${before}`, text: names(newCultivars) },
    { label: 'Cultivars gone', text: names(goneCultivars) },
    {
      label: `Trees not seen in ${before}`,
      text: newTrees.map((tree) => treeWords(ledger, tree)).join('; '),
    },
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
    ledger.seasons
      .filter((season) => season.year === year)
      .flatMap((season) => [...treeEntries(season)].map(({ tree }) => tree)),
  );
  return new Set([...ledger.trees.values()].filter((tree) => seen.has(tree)));
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
  return removed === undefined ? `no entry in ${year}` : `removed ${dayAndYear(removed.text)}`;
}
