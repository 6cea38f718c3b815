import type { RipeningFigure, RipeningPanel, RipeningSpan } from '../report/figure.ts';
import {
  DAY_LABEL,
  DAY_MS,
  labelRoom,
  type Panel,
  ROW_HEIGHT,
  rowAxis,
  rowLabels,
  type Spec,
} from './figure-panel.ts';
import { FONT_SIZE, TONES } from './figure-style.ts';

/** Calendar bars, a row a cultivar. */
export function ripeningPanels(figure: RipeningFigure): readonly Panel[] {
  const names = figure.panels.flatMap(({ rows }) => rows.map(({ name }) => name));
  const labelOf = rowLabels(names);
  const left = labelRoom(names.map(labelOf));
  return figure.panels.map((panel) => {
    const frost = frostLayers(panel);
    return {
      heading: panel.heading,
      left,
      right: 22,
      above: frost.length === 0 ? 6 : 22,
      below: 30,
      height: panel.rows.length * ROW_HEIGHT,
      spec: {
        data: { values: panel.rows.map(valuesOf) },
        layer: [...bars(panel, labelOf), ...frost],
      },
    };
  });
}

function valuesOf(span: RipeningSpan, row: number): Spec {
  const { first, p10, p50, p90, last } = span;
  return {
    row,
    first: dayOf(first),
    p10: dayOf(p10),
    p50: dayOf(p50),
    p90: dayOf(p90),
    last: dayOf(last),
  };
}

/** Days since 1970-01-01. */
function dayOf(date: string): number {
  return Date.parse(`${date}T00:00:00Z`) / DAY_MS;
}

function bars(panel: RipeningPanel, labelOf: (name: string) => string): readonly Spec[] {
  const y = rowAxis(panel.rows.map(({ name }) => labelOf(name)));
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
  const values = ticks(from, to).map(dayOf);
  return {
    scale: { domain: [dayOf(from), dayOf(to)], nice: false, zero: false },
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

/** The most labels that stand side by side. */
const MOST_TICKS = 6;

/** Firsts and fifteenths of months, or the firsts alone where these are too many. */
function ticks(from: string, to: string): readonly string[] {
  const days: string[] = [];
  let [year = 0, month = 1] = from.split('-').map(Number);
  for (;;) {
    const start = `${String(year).padStart(4, '0')}-${String(month).padStart(2, '0')}`;
    if (`${start}-01` > to) break;
    days.push(`${start}-01`, `${start}-15`);
    month = month === 12 ? 1 : month + 1;
    if (month === 1) year += 1;
  }
  const within = days.filter((day) => day >= from && day <= to);
  return within.length > MOST_TICKS ? within.filter((day) => day.endsWith('-01')) : within;
}

function frostLayers(panel: RipeningPanel): readonly Spec[] {
  if (panel.frost === undefined) return [];
  const values = [{ frost: dayOf(panel.frost) }];
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
