import type { FigureMove, MovedFigure } from '../../judge/figure-moves.ts';
import type { Selection } from '../../measure/selection.ts';
import { CROPS, type Ledger } from '../../model/ledger.ts';
import { cell, countColumn, numberColumn, shareColumn, textColumn } from '../columns.ts';
import { withCropWords } from '../crop-words.ts';
import { type Section, tableSection } from '../document.ts';
import { cultivarName } from '../names.ts';
import type { ReportRequest } from '../report-request.ts';
import { forPeople } from '../row-columns.ts';
import type { Column, Report, Row } from '../table.ts';

export const FIGURE_NAMES: Readonly<Record<MovedFigure, string>> = {
  fruitPerBranch: 'Fruit per branch',
  meanWeight: 'Mean fruit weight',
  soundShare: 'Share of sound fruit',
};

/** One figure of the cultivars where it moved most, crops apart. */
export function figureSection(
  comparison: TwoSides,
  figure: MovedFigure,
  moves: readonly FigureMove[],
  ifEmpty: string,
): Section {
  const shown = CROPS.flatMap((crop) =>
    moves.filter((move) => move.crop === crop).slice(0, comparison.top),
  );
  const rows = shown.map(
    (move): Row => ({
      cultivar: nameOf(comparison, move.cultivar),
      crop: move.crop,
      before: cell(move.before),
      after: cell(move.after),
      change: cell(move.change),
      relative: cell(move.relative),
      trees: move.trees,
    }),
  );
  return tableSection({
    key: figure,
    heading: FIGURE_NAMES[figure],
    table: {
      columns: withCropWords(
        comparison.after.ledger,
        {},
        forPeople(figureColumns(comparison, figure), rows, []),
      ),
      rows,
    },
    ifEmpty,
  });
}

export function nameOf({ before, after }: TwoSides, key: string): string {
  for (const { ledger } of [after, before]) {
    const cultivar = ledger.cultivars.get(key);
    if (cultivar !== undefined) return cultivarName(ledger, cultivar);
  }
  return key;
}

function figureColumns({ before, after }: TwoSides, figure: MovedFigure): readonly Column[] {
  const column = (key: string, label: string) => {
    const looks = { label, drop: 0 };
    if (figure === 'soundShare') return shareColumn(key, 0, looks);
    return figure === 'meanWeight'
      ? numberColumn(key, 1, { ...looks, unit: 'g' })
      : numberColumn(key, 2, looks);
  };
  const relative = shareColumn('relative', 0, { label: 'Change', drop: 1 });
  return [
    textColumn('crop', { label: 'Crop', drop: 0 }),
    textColumn('cultivar', { label: 'Cultivar', drop: 0 }),
    column('before', before.label),
    column('after', after.label),
    column('change', figure === 'soundShare' ? 'Change, points' : 'Change'),
    // Percent of a percentage only confuses people.
    figure === 'soundShare' ? { ...relative, machineOnly: true } : relative,
    countColumn('trees', { label: 'Trees', drop: 0 }),
  ];
}

/** One of two ledgers, or two seasons of one, that are set against each other. */
export interface ComparedSide {
  readonly ledger: Ledger;
  readonly selection: Selection;
  /** How people call it, in few letters. */
  readonly label: string;
}

export interface TwoSides {
  readonly before: ComparedSide;
  readonly after: ComparedSide;
  readonly confidence: number;
  /** As of a `ReportRequest`. */
  readonly today?: ReportRequest['today'];
  /** Rows to show of a table. */
  readonly top: number;
  readonly rank: (ledger: Ledger, request: ReportRequest) => Report | Promise<Report>;
}
