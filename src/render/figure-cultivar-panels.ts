import type { CultivarFigure, CultivarPanel, SeasonLine } from '../report/figures/figure.ts';
import { DAY_LABEL, dayTicks, drawnPart, type Panel, type Spec } from './figure-panel.ts';
import { TONES } from './figure-style.ts';

const HEIGHT = 120;

/** Seasons from left to right, a panel a measure; the crops side by side within a season. */
export function cultivarPanels(figure: CultivarFigure): readonly Panel[] {
  return figure.panels.map((panel) => ({
    heading: panel.heading,
    left: 60,
    right: 16,
    above: 14,
    below: 30,
    height: HEIGHT,
    spec: {
      layer: panel.lines.flatMap((line) => layers(panel, line)),
    },
  }));
}

function layers(panel: CultivarPanel, { crop, points }: SeasonLine): readonly Spec[] {
  const xOffset = panel.lines.length < 2 ? 0 : crop === 'early' ? -7 : 7;
  const x: Spec = {
    field: 'season',
    type: 'ordinal',
    scale: { type: 'point', domain: panel.seasons, padding: 0.5 },
    axis: { title: null, labelAngle: 0, grid: false, values: labelled(panel.seasons) },
  };
  const isMain = crop === 'main';
  const own: Spec = {
    data: { values: points },
  };
  return [
    {
      ...own,
      mark: {
        type: 'line',
        xOffset,
        color: TONES.tint.light,
        strokeWidth: 1.5,
        ...(isMain ? {} : { strokeDash: [5, 4] }),
      },
      encoding: { x, y: yOf(panel, 'value') },
    },
    {
      ...own,
      transform: [{ filter: 'isValid(datum.low)' }],
      mark: { type: 'rule', xOffset, color: TONES.ink.light, strokeWidth: 2 },
      encoding: { x, y: yOf(panel, 'low'), y2: { field: 'high' } },
    },
    {
      ...own,
      mark: {
        type: 'point',
        xOffset,
        shape: isMain ? 'circle' : 'square',
        size: 80,
        opacity: 1,
        strokeWidth: 2,
        stroke: TONES.tint.light,
        fill: isMain ? TONES.tint.light : TONES.paper.light,
      },
      encoding: { x, y: yOf(panel, 'value') },
    },
  ];
}

/** The most seasons that are named side by side. */
const MOST_SEASONS = 9;

/** The last season and, where there are many, every second or third before it. */
function labelled(seasons: readonly number[]): readonly number[] {
  const step = Math.ceil(seasons.length / MOST_SEASONS);
  return seasons.filter((_, at) => (seasons.length - 1 - at) % step === 0);
}

function yOf(panel: CultivarPanel, field: string): Spec {
  const axis = { title: null, tickCount: 4, grid: true, domain: false, ticks: false };
  const drawn = panel.lines.flatMap(({ points }) =>
    points.flatMap(({ low, value, high }) => [low ?? value, value, high ?? value]),
  );
  if (panel.values === 'day') return { field, ...dayAxis(drawn, axis) };
  const scale =
    panel.domain === undefined
      ? { nice: true }
      : { domain: drawnPart({ low: panel.domain[0], high: panel.domain[1] }, drawn), nice: false };
  return {
    field,
    type: 'quantitative',
    scale: { ...scale, zero: panel.domain === undefined },
    axis,
  };
}

/** Days that are drawn beyond the first and the last, so that no mark lies on the edge. */
const MARGIN = 4;

/** The earlier, the higher. */
function dayAxis(days: readonly number[], axis: Spec): Spec {
  const [from, to] = [Math.min(...days) - MARGIN, Math.max(...days) + MARGIN];
  const ticks = dayTicks(from, to);
  return {
    type: 'quantitative',
    scale: { domain: [from, to], zero: false, nice: false, reverse: true },
    // Names of days that people know, where there are two of them to tell how far apart others are.
    axis: {
      ...axis,
      ...(ticks.length > 1 ? { values: ticks } : { tickMinStep: 1 }),
      labelExpr: DAY_LABEL,
    },
  };
}
