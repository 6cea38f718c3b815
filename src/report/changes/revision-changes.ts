import { type FigureMove, MOVED_FIGURES } from '../../judge/figure-moves.ts';
import { countColumn } from '../columns.ts';
import { note, notesInOrder } from '../common-notes.ts';
import { type Document, factsSection, type Section } from '../document.ts';
import { selectionWords } from '../report-request.ts';
import { counted } from '../words.ts';
import { compareEntries, type EntryChange } from './compare-entries.ts';
import { entriesSection } from './entries-section.ts';
import { FIGURE_NAMES, figureSection, type TwoSides } from './figures-section.ts';
import { ledgerEntries } from './ledger-entries.ts';
import { allFigureMoves, type MovesByFigure } from './moved-sections.ts';
import { type RankMove, rankMoves, rankMovesSection, topNote, truly } from './rank-moves.ts';

/** A state of the ledger's files. */
export interface Revision {
  /** In words: a commit with its day and subject, or the files as they are. */
  readonly words: string;
  /** Name of the commit; null for the files as they are. */
  readonly commit: string | null;
}

/** What is different between two states of the files, and which ranks and figures moved by it. */
export async function revisionChanges(
  comparison: TwoSides,
  since: Revision,
  until: Revision,
): Promise<Document> {
  const { ledger, selection } = comparison.after;
  const changes = compareEntries(ledgerEntries(comparison.before.ledger), ledgerEntries(ledger));
  const ranks = truly(await rankMoves(comparison));
  const moves = changedOnly(allFigureMoves(comparison, false));
  const touched = changesByCultivar(changes);
  const own = countColumn('entries', { label: 'Own entries changed', drop: 4 });
  const moved = MOVED_FIGURES.filter((figure) => (moves.get(figure) ?? []).length > 0);
  return {
    report: 'changes',
    title: `Since ${comparison.before.label}`,
    ledgerTitle: ledger.trial.title,
    selection: {
      ...selectionWords({ selection, by: [], confidence: comparison.confidence }, []),
      since: comparison.before.label,
      until: comparison.after.label,
      top: comparison.top,
    },
    sections: [
      inShort(since, until, changes, ranks, moves),
      entriesSection(changes, comparison),
      rankMovesSection(comparison, ranks, 'No rank and no index moved.', [
        [own, ({ cultivar }) => touched.get(cultivar) ?? 0],
      ]),
      ...moved.map((figure) => figureSection(comparison, figure, moves.get(figure) ?? [], '')),
    ],
    notes: notesInOrder([
      note(
        'method',
        'Entries are compared by what they say, not by how they are written: their order, quotes and units do not matter. One of the same tree, crop and day counts as altered.',
      ),
      note(
        'method',
        'Ranks and figures: by all entries that the selection asks for, then and now.',
      ),
      ranks.some(({ cultivar }) => !touched.has(cultivar))
        ? note(
            'evidence',
            'A rank can move although no entry of the cultivar changed: others overtook it, or a setting changed.',
          )
        : undefined,
      topNote(comparison, [ranks, ...moved.map((figure) => moves.get(figure) ?? [])]),
    ]),
  };
}

function changedOnly(moves: MovesByFigure): MovesByFigure {
  const isChanged = ({ before, after }: FigureMove) => before !== after;
  return new Map([...moves].map(([figure, own]) => [figure, own.filter(isChanged)]));
}

/** How many changed entries may touch a cultivar's figures. */
function changesByCultivar(changes: readonly EntryChange[]): ReadonlyMap<string, number> {
  const counts = new Map<string, number>();
  for (const { entry } of changes) {
    if (entry.cultivar !== undefined) {
      counts.set(entry.cultivar, (counts.get(entry.cultivar) ?? 0) + 1);
    }
  }
  return counts;
}

function inShort(
  since: Revision,
  until: Revision,
  changes: readonly EntryChange[],
  ranks: readonly RankMove[],
  moves: MovesByFigure,
): Section {
  const number = (what: EntryChange['what']) => changes.filter((one) => one.what === what).length;
  const tally = { added: number('added'), removed: number('removed'), altered: number('altered') };
  const places = ranks.filter(({ places }) => places !== 0).length;
  const figures = MOVED_FIGURES.flatMap((figure) => {
    const count = moves.get(figure)?.length ?? 0;
    return count === 0 ? [] : [`${FIGURE_NAMES[figure].toLowerCase()} (${count})`];
  });
  const entries = `${counted(tally.added, 'entry', 'entries')} added, ${tally.removed} removed, ${tally.altered} altered`;
  return factsSection({
    key: 'inShort',
    heading: 'In short',
    facts: [
      { label: 'From', text: since.words },
      { label: 'To', text: until.words },
      { label: 'Entries', text: entries },
      {
        label: 'Ranks',
        text: `${counted(places, 'place')} moved, ${counted(ranks.length, 'index', 'indexes')} changed`,
      },
      {
        label: 'Figures',
        text:
          figures.length === 0
            ? 'none changed'
            : `changed: ${figures.join(', ')}; a cultivar counts once for each crop`,
      },
    ],
    says: { since: { ...since }, until: { ...until }, ...tally },
  });
}
