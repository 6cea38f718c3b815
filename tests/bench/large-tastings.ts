import type { SeededRandom } from '../../src/stats/random/seeded-random.ts';
import type { MadeTree } from './large-trees.ts';

const TASTERS = ['mara', 'joss', 'odo', 'wren'] as const;
const TRAITS = ['sweetness', 'flavour', 'texture'] as const;
const PLATES = 5;

/** Sittings of five plates and four tasters, two of whom put the plates in order as well. */
export function sittingLines(
  count: number,
  trees: readonly MadeTree[],
  random: SeededRandom,
  dateOf: (sitting: number) => string,
): string {
  return Array.from({ length: count }, (_, k) => {
    const mood = 0.4 * random.normal();
    const plates = random.shuffle(trees).slice(0, PLATES);
    const judged = TASTERS.map((taster) => ({
      taster,
      sheet: plates.map(({ id, cultivar }) => {
        const liking = cultivar.worth + mood + 0.8 * random.normal();
        const given = TRAITS.map((trait) => ({ trait, score: score(liking, random) }));
        return { id, liking, given };
      }),
    }));
    const samples = plates.map(
      ({ id }) =>
        `      - { tree: ${id}, crop: main, ripeness: ripe, brix: ${(14 + 8 * random.uniform()).toFixed(1)} }\n`,
    );
    const scores = judged.map(({ taster, sheet }) => {
      const plate = ({ id, given }: (typeof sheet)[number]) =>
        `        ${id}: { ${given.map((one) => `${one.trait}: ${one.score}`).join(', ')} }\n`;
      return `      ${taster}:\n${sheet.map(plate).join('')}`;
    });
    const order = judged.slice(0, 2).map(({ taster, sheet }) => {
      const best = sheet.toSorted((a, b) => totalOf(b) - totalOf(a) || b.liking - a.liking);
      return `      ${taster}: [${best.map(({ id }) => id).join(', ')}]\n`;
    });
    return [
      `  - on: ${dateOf(k)}\n    samples:\n`,
      ...samples,
      '    scores:\n',
      ...scores,
      '    order:\n',
      ...order,
    ].join('');
  }).join('');
}

function score(liking: number, random: SeededRandom): number {
  return Math.min(10, Math.max(1, Math.round(liking + 0.6 * random.normal())));
}

function totalOf({ given }: { readonly given: readonly { readonly score: number }[] }): number {
  return given.reduce((sum, one) => sum + one.score, 0);
}
