import { type FigureMove, MOVED_FIGURES } from '../../judge/figure-moves.ts';
import { cropWordsNote, note, notesInOrder } from '../common-notes.ts';
import type { LinesSection, Page } from '../page.ts';
import { selectionWords } from '../report-request.ts';
import { arrivalsSection } from './arrivals-section.ts';
import type { Comparison } from './comparison.ts';
import { figureSection } from './figures-section.ts';
import { allFigureMoves, type MovesByFigure, movedLines, shiftsSaid } from './moved-sections.ts';
import { type RankMove, rankMoves, rankMovesSection } from './rank-moves.ts';

/**
 * What is different between two seasons of a ledger: who came and went, whose rank moved, which
 * figures moved most. Figures are those of trees that have them in both seasons at the same site.
 */
export async function seasonChanges(
  comparison: Comparison,
  before: number,
  after: number,
): Promise<Page> {
  const { ledger, selection } = comparison.after;
  const ranks = await rankMoves(comparison);
  const moves = allFigureMoves(comparison, true);
  const none = `It moved in no cultivar with trees at the same site in ${before} and ${after}.`;
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
      arrivalsSection(ledger, before, after),
      rankMovesSection(comparison, ranks, 'Nothing could be ranked in either season.'),
      ...MOVED_FIGURES.map((figure) =>
        figureSection(comparison, figure, onlyMoved(moves.get(figure) ?? []), none),
      ),
    ],
    notes: notesInOrder([
      cropWordsNote(ledger),
      note('method', `Ranks: by the entries of ${before} alone and of ${after} alone.`),
      note(
        'method',
        'Figures: only of trees that have the figure in both seasons at the same site, so they may differ from other tables. The greatest changes stand first.',
      ),
      note('evidence', `At most ${comparison.top} rows of each crop are shown; --top shows more.`),
      note(
        'caution',
        'What moves most cultivars the same way is more likely the year than the cultivar; and with one tree of each, chance moves figures as far.',
      ),
    ]),
  };
}

function onlyMoved(moves: readonly FigureMove[]): readonly FigureMove[] {
  return moves.filter(({ change }) => change !== undefined && change !== 0);
}

function inShort(
  comparison: Comparison,
  ranks: readonly RankMove[],
  moves: MovesByFigure,
): LinesSection {
  const lines = movedLines(comparison, ranks, moves);
  return {
    kind: 'lines',
    key: 'inShort',
    heading: 'In short',
    lines: lines.length > 0 ? lines : [{ lead: '', text: 'Nothing can be compared.' }],
    says: shiftsSaid(moves),
  };
}
