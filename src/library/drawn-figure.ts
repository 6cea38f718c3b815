import { drawnFigure } from '../cli/drawn-figure.ts';
import { UsageError } from '../cli/exit.ts';
import { askedDay } from '../cli/request.ts';
import { nodeHost } from '../host/node-host.ts';
import type { Ledger } from '../model/ledger.ts';
import { GROUNDS, type Ground } from '../render/figure-style.ts';
import { figureSvg } from '../render/figure-svg.ts';
import { buildFigure, FIGURE_KINDS, type FigureKind } from '../report/figures/build-figure.ts';
import type { Figure } from '../report/figures/figure.ts';
import type { Asked } from './asked.ts';
import { requestFor } from './request-for.ts';

type AskedDrawing = Asked & { readonly ground?: Ground | undefined };

/** The SVG that the command would write. */
export async function svgOf(
  ledger: Ledger,
  kind: FigureKind,
  { ground, ...asked }: AskedDrawing,
): Promise<string> {
  const figure = await figureOf(ledger, kind, asked);
  return figureSvg(figure, 'file', { ground: groundOf(ground) });
}

/** The PNG that it would write. */
export async function pngBytes(
  ledger: Ledger,
  kind: FigureKind,
  { ground, ...asked }: AskedDrawing,
): Promise<Uint8Array> {
  const figure = await figureOf(ledger, kind, asked);
  const drawn = await drawnFigure(nodeHost(), figure, { format: 'png', ground: groundOf(ground) });
  return typeof drawn === 'string' ? new TextEncoder().encode(drawn) : drawn;
}

function groundOf(ground: Ground = 'auto'): Ground {
  if (GROUNDS.includes(ground)) return ground;
  throw new UsageError(`ground ${String(ground)}: the grounds are ${GROUNDS.join(', ')}`);
}

async function figureOf(ledger: Ledger, kind: FigureKind, asked: Asked): Promise<Figure> {
  if (!FIGURE_KINDS.includes(kind)) {
    throw new UsageError(`figure ${String(kind)}: the figures are ${FIGURE_KINDS.join(', ')}`);
  }
  const request = requestFor(ledger, asked);
  if (kind === 'cultivar' && request.selection.cultivars?.length !== 1) {
    throw new UsageError('figure cultivar draws one cultivar: name it');
  }
  const on = kind === 'day' ? await askedDay(ledger, asked.today) : undefined;
  const drawn = await buildFigure(ledger, request, kind, on);
  if (drawn === undefined) {
    throw new UsageError(`nothing to draw: the ledger has no ${kind} in what was asked for`);
  }
  return drawn;
}
