import { CholeskyDecomposition, Matrix } from 'ml-matrix';
import { INDEX_BANDS, onBand, weighted } from './index-rule.ts';
import type { SimulatedTrial } from './simulated-trial.ts';

/** The index from least-squares means: cultivar + sitting + taster + site for scores, cultivar + season + site for figures. */
export function leastSquaresIndex(trial: SimulatedTrial): (number | undefined)[] {
  const tasted = (trait: 'flavour' | 'sweetness') => {
    const rows = trial.scores.filter((score) => score[trait] !== undefined);
    return leastSquaresMeans(
      trial.cultivars,
      rows.map((row) => row[trait] ?? 0),
      [
        rows.map((row) => row.cultivar),
        rows.map((row) => row.sitting),
        rows.map((row) => row.taster),
        rows.map((row) => row.site),
      ],
    );
  };
  const measured = (figure: (row: SimulatedTrial['treeSeasons'][number]) => number) => {
    const rows = trial.treeSeasons.filter((row) => row.picked > 0);
    return leastSquaresMeans(trial.cultivars, rows.map(figure), [
      rows.map((row) => row.cultivar),
      rows.map((row) => row.season),
      rows.map((row) => row.site),
    ]);
  };
  const flavour = tasted('flavour');
  const sweetness = tasted('sweetness');
  const rate = measured((row) => row.fruit / row.branches);
  const size = measured((row) => row.weights.reduce((a, b) => a + b, 0) / row.weights.length);
  const sound = measured((row) => row.sound / row.picked);
  return flavour.map((value, cultivar) => {
    const parts = [value, sweetness[cultivar], rate[cultivar], size[cultivar], sound[cultivar]];
    if (parts.some((part) => part === undefined)) return undefined;
    return weighted({
      flavour: value ?? 0,
      sweetness: sweetness[cultivar] ?? 0,
      productivity: onBand(INDEX_BANDS.productivity, rate[cultivar] ?? 0),
      size: onBand(INDEX_BANDS.size, size[cultivar] ?? 0),
      soundness: onBand(INDEX_BANDS.soundness, sound[cultivar] ?? 0),
    });
  });
}

/** Means of the first factor at the average level of the others; a whiff of ridge settles what is left open. */
function leastSquaresMeans(
  items: number,
  y: readonly number[],
  factors: readonly (readonly number[])[],
): (number | undefined)[] {
  const levels = factors.map((factor, f) => (f === 0 ? items : 1 + Math.max(0, ...factor)));
  const first = levels.map((_, f) => levels.slice(0, f).reduce((sum, count) => sum + count, 0));
  const size = levels.reduce((sum, count) => sum + count, 0);
  const system = Matrix.eye(size, size, 1e-6);
  const right = Matrix.zeros(size, 1);
  const centre = y.reduce((sum, value) => sum + value, 0) / y.length;
  y.forEach((value, row) => {
    const at = factors.map((factor, f) => (first[f] ?? 0) + (factor[row] ?? 0));
    for (const a of at) {
      right.set(a, 0, right.get(a, 0) + value - centre);
      for (const b of at) system.set(a, b, system.get(a, b) + 1);
    }
  });
  const solved = new CholeskyDecomposition(system).solve(right).to1DArray();
  const others = levels.slice(1).map((count, f) => {
    const from = first[f + 1] ?? 0;
    return solved.slice(from, from + count).reduce((sum, value) => sum + value, 0) / count;
  });
  const reference = centre + others.reduce((sum, value) => sum + value, 0);
  const seen = new Set(factors[0]);
  return solved
    .slice(0, items)
    .map((value, item) => (seen.has(item) ? value + reference : undefined));
}
