import type { Ledger } from '../model/ledger.ts';
import type { Ground } from '../render/figure-style.ts';
import type { FigureKind } from '../report/figures/build-figure.ts';
import type { Asked } from './asked.ts';

export type DrawnKind = FigureKind | 'pool';

export interface AskedFigure extends Omit<Asked, 'sort'> {
  /** What it stands on; `auto`, by the reader's screen, if left out. */
  readonly ground?: Ground;
  /** To fill a screen, in pixels. */
  readonly size?: `${number}x${number}`;
  /** Of `pool`: ledgers of other gardens, opened as home was. */
  readonly pool?: readonly Ledger[];
}
