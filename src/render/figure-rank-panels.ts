import type { RankedSpot, RanksFigure } from '../report/figures/figure.ts';
import {
  drawnPart,
  type LabelRoom,
  type Panel,
  rowLayout,
  type Spec,
  textWidth,
} from './figure-panel.ts';
import { FONT_SIZE, TONES } from './figure-style.ts';

/** Dots on their intervals, a row a cultivar. */
export function rankPanels(figure: RanksFigure, room: LabelRoom): readonly Panel[] {
  const all = figure.panels.flatMap(({ rows }) => rows);
  const [from, to] = drawnPart(
    figure.scale,
    all.flatMap(({ low, value, high }) => [low ?? value, value, high ?? value]),
  );
  const named = ({ rank, name }: RankedSpot) => ({ lead: `${rank}`, name });
  const { left, above, rowHeight, axis, names } = rowLayout(all.map(named), room, 'all');
  const right = 16 + textWidth(all.map(({ letters }) => letters));
  return figure.panels.map(({ heading, rows }) => ({
    heading,
    left,
    right,
    above,
    below: 44,
    height: rows.length * rowHeight,
    spec: {
      data: { values: rows.map((one, row) => ({ ...one, row })) },
      encoding: { y: axis(rows.map(named)) },
      layer: [...spots(figure, from, to), ...letters(rows), ...names(rows.map(named))],
    },
  }));
}

function spots({ scale }: RanksFigure, from: number, to: number): readonly Spec[] {
  const x = (field: string): Spec => ({
    field,
    type: 'quantitative',
    scale: { domain: [from, to], zero: false, nice: false },
    axis: {
      title: `Index (${scale.low} to ${scale.high})`,
      tickCount: Math.min(9, to - from),
      labelFlush: false,
      grid: false,
    },
  });
  const dot = { type: 'point', size: 80, opacity: 1, strokeWidth: 2, stroke: TONES.tint.light };
  return [
    {
      transform: [{ filter: 'isValid(datum.low)' }],
      mark: { type: 'rule', color: TONES.ink.light, strokeWidth: 2 },
      encoding: { x: x('low'), x2: { field: 'high' } },
    },
    {
      transform: [{ filter: 'isValid(datum.low)' }],
      mark: { ...dot, fill: TONES.tint.light },
      encoding: { x: x('value') },
    },
    {
      transform: [{ filter: '!isValid(datum.low)' }],
      mark: { ...dot, fill: TONES.paper.light },
      encoding: { x: x('value') },
    },
  ];
}

/** Letters of groups that cannot be separated, behind the plot. */
function letters(rows: readonly RankedSpot[]): readonly Spec[] {
  if (rows.every((row) => row.letters === '')) return [];
  return [
    {
      mark: { type: 'text', align: 'left', dx: 8, fontSize: FONT_SIZE, color: TONES.ink.light },
      encoding: { x: { value: 'width' }, text: { field: 'letters' } },
    },
  ];
}
