import { selectRecords } from '../../measure/crop-record.ts';
import type { By } from '../../measure/group-records.ts';
import {
  type SharedSpread,
  type SpreadFigure,
  sharedSpreads,
} from '../../measure/shared-spread.ts';
import type { Crop, Ledger } from '../../model/ledger.ts';
import { note, shownNote } from '../common-notes.ts';
import type { ReportRequest, Spread } from '../report-request.ts';
import type { Note } from '../table.ts';
import { listed } from '../words.ts';

export interface SpreadRequest extends ReportRequest {
  /** `shared` if left out. */
  readonly spread?: Spread | undefined;
}

/**
 * The spread behind the intervals of rows, by crop; none where a row is a tree, which speaks of
 * itself, or where each row has its own. Cultivars and trees that are not shown lend theirs too.
 */
export function spreadOfRows(
  ledger: Ledger,
  { selection, spread = 'shared' }: SpreadRequest,
  by: readonly By[],
  figure: SpreadFigure,
): ReadonlyMap<Crop, SharedSpread> {
  if (spread === 'own' || by.includes('tree')) return new Map();
  const records = selectRecords(ledger, { ...selection, cultivars: [], trees: [] });
  return sharedSpreads(records, figure, by.includes('season') ? 'seasons' : 'nothing');
}

/** What intervals by a shared spread rest on and speak of. */
export function sharedSpreadNotes(spreads: ReadonlyMap<Crop, SharedSpread>): Note[] {
  const told = [...spreads].filter(([, { sd }]) => sd !== undefined);
  const untold = [...spreads].filter(([, { sd }]) => sd === undefined);
  return [
    told.length === 0
      ? undefined
      : note(
          'method',
          'Interval: how far trees of one cultivar differ is told from the trees of all cultivars together, so a single tree has one too; it is wider where fruit were few. It speaks of trees of the same age in the seasons shown, not of grown trees or years to come. --spread own takes the trees of each row alone.',
        ),
    told.length === 0 || untold.length === 0
      ? undefined
      : shownNote(
          'evidence',
          `No interval for the ${listed(untold.map(([crop]) => crop))} crop: too few cultivars have two trees.`,
        ),
    told.length > 0 || spreads.size === 0
      ? undefined
      : shownNote('evidence', 'No intervals: too few cultivars have two trees.'),
  ].filter((one) => one !== undefined);
}
