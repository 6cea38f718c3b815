import type { IsoDate } from '../../model/dates.ts';
import type { Ledger } from '../../model/ledger.ts';
import type { ReportRequest } from '../report-request.ts';
import type { Figure } from './figure.ts';
import { cultivarFigure } from './figure-cultivar.ts';
import { dayFigure } from './figure-day.ts';
import { ranksFigure } from './figure-ranks.ts';
import { ripeningFigure } from './figure-ripening.ts';
import { weightsFigure } from './figure-weights.ts';

export const FIGURE_KINDS = ['ranks', 'ripening', 'weights', 'cultivar', 'day'] as const;
export type FigureKind = (typeof FIGURE_KINDS)[number];

/**
 * The figure of a kind, or undefined where the selection holds nothing to draw. `cultivar` draws
 * the first cultivar of the selection; `ripening` the last season with a pick, where none is asked
 * for; `day` what was picked and tasted `on` a day.
 */
export async function buildFigure(
  ledger: Ledger,
  request: ReportRequest,
  kind: FigureKind,
  on?: IsoDate,
): Promise<Figure | undefined> {
  switch (kind) {
    case 'ranks':
      return ranksFigure(ledger, request);
    case 'ripening':
      return ripeningFigure(ledger, ofLastSeason(ledger, request));
    case 'weights':
      return weightsFigure(ledger, request);
    case 'cultivar': {
      const cultivar = ledger.cultivars.get(request.selection.cultivars?.[0] ?? '');
      return cultivar === undefined ? undefined : cultivarFigure(ledger, request, cultivar);
    }
    case 'day':
      return on === undefined ? undefined : dayFigure(ledger, request, on);
  }
}

function ofLastSeason(ledger: Ledger, request: ReportRequest): ReportRequest {
  // A season of which nothing is picked yet has no calendar.
  const last = ledger.seasons.findLast(({ picks }) => picks.length > 0)?.year;
  if (request.selection.seasons?.length || last === undefined) return request;
  return { ...request, selection: { ...request.selection, seasons: [last] } };
}
