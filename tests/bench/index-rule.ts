import type { SimulatedTrait } from './trial-effects.ts';

/** How the simulated grower weighs the parts of the index. */
export const INDEX_WEIGHTS = { flavour: 3, sweetness: 2, productivity: 2, size: 1, soundness: 2 };

/** How measured figures map to the scale: each band has two points. */
export const INDEX_BANDS = {
  productivity: [
    [0, 1],
    [4, 10],
  ],
  size: [
    [20, 1],
    [80, 10],
  ],
  soundness: [
    [0.5, 1],
    [1, 10],
  ],
} as const;

/** The weighted mean of the parts. */
export function weighted(parts: Record<SimulatedTrait, number>): number {
  let [sum, total] = [0, 0];
  for (const [part, weight] of Object.entries(INDEX_WEIGHTS)) {
    sum += weight * parts[part as SimulatedTrait];
    total += weight;
  }
  return sum / total;
}

/** A figure on the scale, flat beyond the ends of its band. */
export function onBand(band: readonly (readonly [number, number])[], figure: number): number {
  const [[x0, y0], [x1, y1]] = [band[0] ?? [0, 1], band[1] ?? [1, 10]];
  const share = Math.min(1, Math.max(0, (figure - x0) / (x1 - x0)));
  return y0 + share * (y1 - y0);
}
