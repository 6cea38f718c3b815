import type { IsoDate } from '../model/dates.ts';
import type { Ledger } from '../model/ledger.ts';
import type { FigureFormat, Ground } from '../render/figure-style.ts';
import type { FigureSize } from '../render/figure-svg.ts';
import { buildFigure, type FigureKind } from '../report/figures/build-figure.ts';
import type { Figure } from '../report/figures/figure.ts';
import { UsageError } from './exit.ts';
import type { GlobalOptions } from './open-ledger.ts';
import type { ReportOptions } from './options.ts';
import { askedDay, requestOf } from './request.ts';

/** What the options of `figure` come to, once commander has parsed them. */
export interface FigureOptions
  extends Omit<ReportOptions, 'format' | 'sort' | 'by'>,
    GlobalOptions {
  readonly size?: FigureSize;
  readonly format?: FigureFormat;
  readonly ground: Ground;
}

/**
 * A figure of one garden; undefined where there is nothing to draw. Throws a `UsageError` for what
 * the ledger does not have.
 *
 * @param day of the figure of a day; the last one with a pick or a sitting if left out
 */
export async function builtFigure(
  ledger: Ledger,
  kind: FigureKind,
  options: Omit<FigureOptions, keyof GlobalOptions>,
  today: IsoDate,
  day?: string,
): Promise<Figure | undefined> {
  const request = requestOf(ledger, options, today);
  if (kind === 'cultivar' && request.selection.cultivars?.length !== 1) {
    throw new UsageError('figure cultivar draws one cultivar: name it with --cultivar');
  }
  const on = kind === 'day' ? await askedDay(ledger, day) : undefined;
  return buildFigure(ledger, request, kind, on);
}

/** What there is not where a figure cannot be drawn. */
const LACKS: Readonly<Record<FigureKind | 'pool', string>> = {
  ranks: 'no cultivar can be ranked beside another',
  ripening: 'no crop is picked so far that it has a calendar',
  weights: 'no fruit was weighed',
  cultivar: 'nothing was counted, picked or tasted of it',
  day: 'nothing was picked or tasted',
  pool: 'no cultivar can be ranked',
};

/** A figure that there is; else a `UsageError` says so. */
export function requireFigure(figure: Figure | undefined, kind: FigureKind | 'pool'): Figure {
  if (figure !== undefined) return figure;
  throw new UsageError(`nothing to draw: ${LACKS[kind]} in what was asked for`);
}
