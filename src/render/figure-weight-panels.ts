import type { WeightSpread, WeightsFigure } from '../report/figures/figure.ts';
import {
  type LabelRoom,
  type Panel,
  type RowLayout,
  rowLayout,
  type Spec,
} from './figure-panel.ts';
import { TONES } from './figure-style.ts';

/** Boxes, or single fruit where these are few, a row a cultivar. */
export function weightPanels(figure: WeightsFigure, room: LabelRoom): readonly Panel[] {
  const all = figure.panels.flatMap(({ rows }) => rows);
  const layout = rowLayout(all, room, 'some');
  const domain = [0, Math.max(...all.map(heaviest)) * 1.03];
  return figure.panels.map(({ heading, rows }) => ({
    heading,
    left: layout.left,
    right: 16,
    above: layout.above,
    below: 44,
    height: rows.length * layout.rowHeight,
    spec: { data: { values: rows.flatMap(valuesOf) }, layer: layers(rows, layout, domain) },
  }));
}

function heaviest(row: WeightSpread): number {
  return row.kind === 'box' ? row.max : Math.max(...row.weights);
}

function valuesOf(one: WeightSpread, row: number): readonly Spec[] {
  if (one.kind === 'fruit') return one.weights.map((weight) => ({ row, weight }));
  return [{ row, min: one.min, q1: one.q1, median: one.median, q3: one.q3, max: one.max }];
}

function layers(
  rows: readonly WeightSpread[],
  { axis, names }: RowLayout,
  domain: readonly number[],
): readonly Spec[] {
  const y = axis(rows);
  const x = (field: string): Spec => ({
    field,
    type: 'quantitative',
    scale: { domain, nice: false, zero: true },
    axis: { title: 'Weight of a fruit (g)', tickCount: 6, grid: false, labelFlush: false },
  });
  const boxes: Spec = { transform: [{ filter: 'isValid(datum.median)' }] };
  return [
    {
      ...boxes,
      mark: { type: 'rule', color: TONES.ink.light, strokeWidth: 1.5 },
      encoding: { y, x: x('min'), x2: { field: 'max' } },
    },
    {
      ...boxes,
      mark: {
        type: 'bar',
        size: 11,
        color: TONES.pale.light,
        stroke: TONES.tint.light,
        strokeWidth: 1,
      },
      encoding: { y, x: x('q1'), x2: { field: 'q3' } },
    },
    {
      ...boxes,
      mark: { type: 'tick', size: 19, thickness: 3, opacity: 1, color: TONES.ink.light },
      encoding: { y, x: x('median') },
    },
    {
      transform: [{ filter: 'isValid(datum.weight)' }],
      mark: {
        type: 'point',
        size: 50,
        opacity: 1,
        strokeWidth: 1.5,
        stroke: TONES.tint.light,
        fill: TONES.paper.light,
      },
      encoding: { y, x: x('weight') },
    },
    ...names(rows),
  ];
}
