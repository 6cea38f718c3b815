import { builtFigure, type FigureOptions, requireFigure } from '../cli/built-figure.ts';
import { addFigureCommand } from '../cli/commands/figure.ts';
import { drawnFigure } from '../cli/drawn-figure.ts';
import { UsageError } from '../cli/exit.ts';
import type { PoolWords } from '../cli/open-pool.ts';
import { ofHomeAlone, requestOf } from '../cli/request.ts';
import { nodeHost } from '../host/node-host.ts';
import type { IsoDate } from '../model/dates.ts';
import type { Ledger } from '../model/ledger.ts';
import type { FigureFormat } from '../render/figure-style.ts';
import { FIGURE_KINDS } from '../report/figures/build-figure.ts';
import { poolFigure } from '../report/pool/pool-figure.ts';
import type { AskedFigure, DrawnKind } from './asked.ts';
import { optionsFor, todayOf } from './options-for.ts';
import { pooledGardens } from './pooled-gardens.ts';

/** The SVG that the command would write. */
export async function svgOf(ledger: Ledger, kind: DrawnKind, asked: AskedFigure): Promise<string> {
  const drawn = await fileOf(ledger, kind, asked, 'svg');
  return typeof drawn === 'string' ? drawn : new TextDecoder().decode(drawn);
}

/** The PNG that it would write. */
export async function pngBytes(
  ledger: Ledger,
  kind: DrawnKind,
  asked: AskedFigure,
): Promise<Uint8Array> {
  const drawn = await fileOf(ledger, kind, asked, 'png');
  return typeof drawn === 'string' ? new TextEncoder().encode(drawn) : drawn;
}

async function fileOf(
  ledger: Ledger,
  kind: DrawnKind,
  { today, pool, ...words }: AskedFigure,
  format: FigureFormat,
): Promise<string | Uint8Array> {
  const kinds = [...FIGURE_KINDS, 'pool'];
  if (!kinds.includes(kind)) {
    throw new UsageError(`figure ${String(kind)}: the figures are ${kinds.join(', ')}`);
  }
  const options = optionsFor<FigureOptions>(addFigureCommand, words, ['format', 'output']);
  const { ground, size } = options;
  if (kind !== 'pool' && pool !== undefined) {
    throw new UsageError(`figure ${kind} draws one garden; figure pool draws several`);
  }
  const figure =
    kind === 'pool'
      ? pooledFigure(ledger, pool ?? [], options, todayOf(today))
      : await builtFigure(ledger, kind, options, todayOf(today), today);
  return drawnFigure(nodeHost(), requireFigure(figure, kind), { format, ground, size });
}

function pooledFigure(
  home: Ledger,
  others: readonly Ledger[],
  options: FigureOptions & PoolWords,
  today: IsoDate,
) {
  const request = requestOf(home, ofHomeAlone(options), today);
  const { material, asked } = pooledGardens(home, others, request, options);
  return poolFigure(material, asked);
}
