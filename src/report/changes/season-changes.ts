import { type FigureMove, MOVED_FIGURES } from '../../judge/figure-moves.ts';
import { selectRecords } from '../../measure/crop-record.ts';
import { openSeason } from '../../measure/under-way.ts';
import { cropWordsNote, note, notesInOrder } from '../common-notes.ts';
import { type Document, factsSection, type Section } from '../document.ts';
import { selectionWords } from '../report-request.ts';
import { soFarNote } from '../so-far-words.ts';
import { arrivalsSection } from './arrivals-section.ts';
import type { Comparison } from './comparison.ts';
import { figureSection } from './figures-section.ts';
import { allFigureMoves, type MovesByFigure, movedLines, shiftsSaid } from './moved-sections.ts';
import { numberIn, type RankMove, rankMoves, rankMovesSection } from './rank-moves.ts';

/**
 * What is different between two seasons of a ledger: who came and went, whose rank moved, which
 * figures moved most. Figures are those of trees that have them in both seasons at the same site.
 */
export async function seasonChanges(
  comparison: Comparison,
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
      cropWordsNote(ledger),
      soFarNote(ledger, comparison, selectRecords(ledger, selection)),
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

function inShort(
  comparison: Comparison,
  ranks: readonly RankMove[],
  moves: MovesByFigure,
): Section {
  const lines = movedLines(comparison, ranks, moves);
  return factsSection({
    key: 'inShort',
    heading: 'In short',
    facts: lines.length > 0 ? lines : [{ label: '', text: 'Nothing can be compared.' }],
    says: shiftsSaid(moves),
  });
}
