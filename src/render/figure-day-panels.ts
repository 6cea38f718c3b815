import type { DayFigure, DayPanel, DayRow } from '../report/figures/figure.ts';
import { type LabelRoom, type Panel, rowLayout, type Spec } from './figure-panel.ts';
import { TONES } from './figure-style.ts';

/** Dots with small rings beside them, a row a plate. */
export function dayPanels(figure: DayFigure, room: LabelRoom): readonly Panel[] {
  const all = figure.panels.flatMap(({ rows }) => rows);
  const named = ({ place, name, remark }: DayRow) => ({
    lead: `${place ?? ''}`,
    name: remark === '' ? name : `${name}, ${remark}`,
  });
  const { left, above, rowHeight, axis, names } = rowLayout(all.map(named), room, 'all');
  return figure.panels.map((panel) => ({
    heading: panel.heading,
    left,
    right: 16,
    above,
    below: 44,
    height: panel.rows.length * rowHeight,
    spec: {
      data: { values: panel.rows.flatMap(valuesOf) },
      encoding: { y: axis(panel.rows.map(named)) },
      layer: [...layers(axisOf(figure, panel)), ...names(panel.rows.map(named))],
    },
  }));
}

function valuesOf({ value, counts, others }: DayRow, row: number): readonly Spec[] {
  return [...others.map((other) => ({ row, other })), { row, value, counts }];
}

function axisOf({ scale }: DayFigure, { measure, rows }: DayPanel): Spec {
  const [domain, title] =
    measure === 'marks'
      ? [[scale.low, scale.high], `Mean of the marks (${scale.low} to ${scale.high})`]
      : [
          around(rows.flatMap(({ value, others }) => [value, ...others])),
          'Mean weight of a fruit (g)',
        ];
  return {
    type: 'quantitative',
    scale: { domain, zero: false, nice: false },
    axis: { title, tickCount: measure === 'marks' ? 9 : 4, labelFlush: false, grid: false },
  };
}

/** The part of an axis where some weights lie, in whole steps; a tenth of the heaviest at least. */
function around(weights: readonly number[]): readonly [from: number, to: number] {
  const [least, most] = [Math.min(...weights), Math.max(...weights)];
  const rough = Math.max(most - least, most / 10) / 4;
  const unit = 10 ** Math.floor(Math.log10(rough));
  const step = unit * ([1, 2, 5].find((times) => unit * times >= rough) ?? 10);
  return [Math.floor(least / step) * step, Math.ceil(most / step) * step];
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
  ];
}
