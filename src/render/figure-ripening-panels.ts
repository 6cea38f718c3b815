import type { RipeningFigure, RipeningPanel, RipeningSpan } from '../report/figures/figure.ts';
import {
  DAY_LABEL,
  dayNumberOf,
  dayTicks,
  type LabelRoom,
  type Panel,
  type RowLayout,
  rowLayout,
  type Spec,
} from './figure-panel.ts';
import { FONT_SIZE, TONES } from './figure-style.ts';

/** Calendar bars, a row a cultivar. */
export function ripeningPanels(figure: RipeningFigure, room: LabelRoom): readonly Panel[] {
  const layout = rowLayout(
    figure.panels.flatMap(({ rows }) => rows),
    room,
    'some',
  );
  return figure.panels.map((panel) => {
    const frost = frostLayers(panel);
    return {
      heading: panel.heading,
      left: layout.left,
      right: 22,
      above: layout.above + (frost.length === 0 ? 0 : 16),
      below: 30,
      height: panel.rows.length * layout.rowHeight,
      spec: {
        data: { values: panel.rows.map(valuesOf) },
        layer: [...bars(panel, layout), ...frost, ...layout.names(panel.rows)],
      },
    };
  });
}

function valuesOf(span: RipeningSpan, row: number): Spec {
  const { first, p10, p50, p90, last } = span;
  return {
    row,
    first: dayNumberOf(first),
    p10: dayNumberOf(p10),
    p50: dayNumberOf(p50),
    p90: dayNumberOf(p90),
    last: dayNumberOf(last),
  };
}

function bars(panel: RipeningPanel, { axis }: RowLayout): readonly Spec[] {
  const y = axis(panel.rows);
  const x = (field: string): Spec => ({ field, type: 'quantitative', ...dayAxis(panel) });
  return [
    {
      mark: { type: 'rule', color: TONES.ink.light, strokeWidth: 1.5 },
      encoding: { y, x: x('first'), x2: { field: 'last' } },
    },
    {
      mark: {
        type: 'bar',
        size: 11,
        color: TONES.pale.light,
        stroke: TONES.tint.light,
        strokeWidth: 1,
      },
      encoding: { y, x: x('p10'), x2: { field: 'p90' } },
    },
    {
      mark: { type: 'tick', size: 19, thickness: 3, opacity: 1, color: TONES.ink.light },
      encoding: { y, x: x('p50') },
    },
  ];
}

/** Days are numbers, so that no time zone moves them. */
function dayAxis({ from, to }: RipeningPanel): Spec {
  const values = dayTicks(dayNumberOf(from), dayNumberOf(to));
  return {
    scale: { domain: [dayNumberOf(from), dayNumberOf(to)], nice: false, zero: false },
    axis: {
      title: null,
      grid: true,
      gridDash: [1, 3],
      values,
      labelExpr: DAY_LABEL,
      labelFlush: false,
    },
  };
}

function frostLayers(panel: RipeningPanel): readonly Spec[] {
  if (panel.frost === undefined) return [];
  const values = [{ frost: dayNumberOf(panel.frost) }];
  const x: Spec = { field: 'frost', type: 'quantitative', ...dayAxis(panel) };
  return [
    {
      data: { values },
      mark: { type: 'rule', color: TONES.ink.light, strokeDash: [5, 4], strokeWidth: 1.5 },
      encoding: { x },
    },
    {
      data: { values },
      mark: {
        type: 'text',
        align: 'right',
        baseline: 'bottom',
        dy: -4,
        dx: 4,
        fontSize: FONT_SIZE,
        color: TONES.ink.light,
      },
      encoding: { x, y: { value: 0 }, text: { value: 'first frost' } },
    },
  ];
}
