import type { PooledSpot, PoolFigure } from '../report/figure.ts';
import {
  inBands,
  labelRoom,
  type Panel,
  ROW_HEIGHT,
  rowAxis,
  rowLabels,
  type Spec,
} from './figure-panel.ts';
import { TONES } from './figure-style.ts';

/** Gardens as rings, home as a square, and their middle on two lines, a row a cultivar. */
export function poolPanels({ scale, panels }: PoolFigure): readonly Panel[] {
  const all = panels.flatMap(({ rows }) => rows);
  const labelOf = rowLabels(all.map(({ name }) => name));
  const label = ({ rank, name }: PooledSpot) => `${rank}  ${labelOf(name)}`;
  const left = labelRoom(all.map(label));
  return panels.map(({ heading, rows }) => ({
    heading,
    left,
    right: 16,
    above: 6,
    below: 44,
    height: rows.length * ROW_HEIGHT,
    spec: {
      data: { values: rows.flatMap(valuesOf) },
      encoding: { y: inBands(rowAxis(rows.map(label))) },
      layer: layers(scale),
    },
  }));
}

function valuesOf({ gardens, ...spot }: PooledSpot, row: number): readonly Spec[] {
  return [
    { ...spot, row },
    ...gardens.map(({ value, isHome }) => ({ row, [isHome ? 'home' : 'garden']: value })),
  ];
}

function layers({ low, high }: PoolFigure['scale']): readonly Spec[] {
  const x = (field: string): Spec => ({
    field,
    type: 'quantitative',
    scale: { domain: [low, high], zero: false, nice: false },
    axis: { title: `Index (${low} to ${high})`, tickCount: 9, labelFlush: false, grid: false },
  });
  const line = (from: string, to: string, strokeWidth: number): Spec => ({
    transform: [{ filter: `isValid(datum.${from})` }],
    mark: { type: 'rule', color: TONES.ink.light, strokeWidth },
    encoding: { x: x(from), x2: { field: to } },
  });
  const dots = (field: string, mark: Spec): Spec => ({
    transform: [{ filter: `isValid(datum.${field})` }],
    mark: { type: 'point', opacity: 1, ...mark },
    encoding: { x: x(field) },
  });
  const small = {
    size: 34,
    strokeWidth: 1.5,
    stroke: TONES.ink.light,
    fill: TONES.paper.light,
  };
  return [
    line('newLow', 'newHigh', 0.75),
    line('low', 'high', 2.5),
    dots('value', { size: 130, strokeWidth: 2, stroke: TONES.tint.light, fill: TONES.tint.light }),
    dots('garden', small),
    dots('home', { ...small, shape: 'square', size: 44 }),
  ];
}
