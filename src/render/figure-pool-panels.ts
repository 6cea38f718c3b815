import type { PooledSpot, PoolFigure } from '../report/figures/figure.ts';
import { drawnPart, type LabelRoom, type Panel, rowLayout, type Spec } from './figure-panel.ts';
import { TONES } from './figure-style.ts';

/** A cultivar's middle on two lines, and below it its gardens as rings and home as a square, a row a cultivar. */
export function poolPanels(figure: PoolFigure, room: LabelRoom): readonly Panel[] {
  const all = figure.panels.flatMap(({ rows }) => rows);
  const part = drawnPart(
    figure.scale,
    all.flatMap(({ newLow, value, newHigh, gardens }) => [
      ...[newLow, value, newHigh],
      ...gardens.map((garden) => garden.value),
    ]),
  );
  const named = ({ rank, name }: PooledSpot) => ({ lead: `${rank}`, name });
  const { left, above, rowHeight, axis, names } = rowLayout(all.map(named), room, 'all');
  return figure.panels.map(({ heading, rows }) => ({
    heading,
    left,
    right: 16,
    above,
    below: 44,
    height: rows.length * rowHeight,
    spec: {
      data: { values: rows.flatMap(valuesOf) },
      encoding: { y: axis(rows.map(named)) },
      layer: [...layers(figure.scale, part), ...names(rows.map(named))],
    },
  }));
}

function valuesOf({ gardens, ...spot }: PooledSpot, row: number): readonly Spec[] {
  return [
    { ...spot, row },
    ...gardens.map(({ value, isHome }) => ({ row, [isHome ? 'home' : 'garden']: value })),
  ];
}

function layers(
  { low, high }: PoolFigure['scale'],
  [from, to]: readonly [from: number, to: number],
): readonly Spec[] {
  const x = (field: string): Spec => ({
    field,
    type: 'quantitative',
    scale: { domain: [from, to], zero: false, nice: false },
    axis: {
      title: `Index (${low} to ${high})`,
      tickCount: Math.min(9, to - from),
      labelFlush: false,
      grid: false,
    },
  });
  const line = (start: string, end: string, strokeWidth: number): Spec => ({
    transform: [{ filter: `isValid(datum.${start})` }],
    mark: { type: 'rule', color: TONES.ink.light, strokeWidth },
    encoding: { x: x(start), x2: { field: end } },
  });
  const dots = (field: string, mark: Spec): Spec => ({
    transform: [{ filter: `isValid(datum.${field})` }],
    mark: { type: 'point', opacity: 1, ...mark },
    encoding: { x: x(field) },
  });
  // On the line they would hide it, and each other's middle.
  const small = {
    yOffset: 8,
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
