import type { DayFigure, DayPanel, DayRow } from '../report/figure.ts';
import {
  inBands,
  labelRoom,
  type Panel,
  ROW_HEIGHT,
  rowAxis,
  rowLabels,
  type Spec,
  textWidth,
} from './figure-panel.ts';
import { FONT_SIZE, TONES } from './figure-style.ts';

/** Dots with small rings beside them, a row a plate. */
export function dayPanels(figure: DayFigure): readonly Panel[] {
  const all = figure.panels.flatMap(({ rows }) => rows);
  const labelOf = rowLabels(all.map(({ name }) => name));
  const label = ({ place, name }: DayRow) =>
    `${place === undefined ? '' : `${place}  `}${labelOf(name)}`;
  const left = labelRoom(all.map(label));
  const right = 16 + textWidth(all.map(({ remark }) => remark));
  return figure.panels.map((panel) => ({
    heading: panel.heading,
    left,
    right,
    above: 6,
    below: 44,
    height: panel.rows.length * ROW_HEIGHT,
    spec: {
      data: { values: panel.rows.flatMap(valuesOf) },
      encoding: { y: inBands(rowAxis(panel.rows.map(label))) },
      layer: layers(axisOf(figure, panel)),
    },
  }));
}

function valuesOf({ value, counts, others, remark }: DayRow, row: number): readonly Spec[] {
  return [...others.map((other) => ({ row, other })), { row, value, counts, remark }];
}

function axisOf({ scale }: DayFigure, { measure, rows }: DayPanel): Spec {
  const most = Math.max(...rows.flatMap(({ value, others }) => [value, ...others]));
  const [domain, title] =
    measure === 'marks'
      ? [[scale.low, scale.high], `Mean of the marks (${scale.low} to ${scale.high})`]
      : [[0, most * 1.06], 'Mean weight of a fruit (g)'];
  return {
    type: 'quantitative',
    scale: { domain, zero: false, nice: false },
    axis: { title, tickCount: measure === 'marks' ? 9 : 6, labelFlush: false, grid: false },
  };
}

function layers(axis: Spec): readonly Spec[] {
  const dot = { type: 'point', opacity: 1, stroke: TONES.tint.light };
  const shown = (field: string, condition = `isValid(datum.${field})`) => ({
    transform: [{ filter: condition }],
    encoding: { x: { ...axis, field } },
  });
  return [
    {
      ...shown('value', 'isValid(datum.value) && datum.counts'),
      mark: { ...dot, size: 150, strokeWidth: 2, fill: TONES.tint.light },
    },
    {
      ...shown('value', 'isValid(datum.value) && !datum.counts'),
      mark: { ...dot, size: 150, strokeWidth: 2, fill: TONES.paper.light },
    },
    {
      ...shown('other'),
      mark: {
        ...dot,
        size: 34,
        strokeWidth: 1.5,
        stroke: TONES.ink.light,
        fill: TONES.paper.light,
      },
    },
    {
      transform: [{ filter: "isValid(datum.remark) && datum.remark != ''" }],
      mark: { type: 'text', align: 'left', dx: 8, fontSize: FONT_SIZE, color: TONES.ink.light },
      encoding: { x: { value: 'width' }, text: { field: 'remark' } },
    },
  ];
}
