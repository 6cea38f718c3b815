import { askedDay } from '../cli/asked-day.ts';
import { UsageError } from '../cli/exit.ts';
import type { Ledger } from '../model/ledger.ts';
import { figureSvg } from '../render/figure-svg.ts';
import { buildFigure, FIGURE_KINDS, type FigureKind } from '../report/build-figure.ts';
import type { Asked } from './asked.ts';
import { requestFor } from './request-for.ts';

/** The SVG that the command would write. */
export async function drawnFigure(ledger: Ledger, kind: FigureKind, asked: Asked): Promise<string> {
  if (!FIGURE_KINDS.includes(kind)) {
    throw new UsageError(`figure ${String(kind)}: the figures are ${FIGURE_KINDS.join(', ')}`);
  }
  const request = requestFor(ledger, asked);
  if (kind === 'cultivar' && request.selection.cultivars?.length !== 1) {
    throw new UsageError('figure cultivar draws one cultivar: name it');
  }
  const on = kind === 'day' ? askedDay(ledger, asked.today) : undefined;
  const drawn = await buildFigure(ledger, request, kind, on);
  if (drawn === undefined) {
    throw new UsageError(`nothing to draw: the ledger has no ${kind} in what was asked for`);
  }
  return figureSvg(drawn, 'file');
}
