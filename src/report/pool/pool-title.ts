import type { CropPool } from '../../judge/pool/pool-crops.ts';
import { numberWord } from '../number-words.ts';
import { listed, sentence, yearsInWords } from '../words.ts';
import type { PoolMaterial, PoolReportRequest } from './pool-request.ts';

/** "Four gardens as one, main crop, 2024 to 2026" */
export function poolTitle(
  { gardens }: PoolMaterial,
  { selection }: PoolReportRequest,
  pools: readonly CropPool[],
): string {
  const pooled = [...new Set(pools.flatMap((pool) => pool.gardens))];
  const years = pooled.flatMap((at) => {
    const garden = gardens[at];
    if (garden === undefined) return [];
    const { seasons = [] } = garden.selection;
    return garden.ledger.seasons
      .map(({ year }) => year)
      .filter((year) => seasons.length === 0 || seasons.includes(year));
  });
  const { crops = [] } = selection;
  return [
    `${sentence(manyGardens(pooled.length || gardens.length))} as one`,
    crops.length === 1 ? `${listed(crops)} crop` : '',
    yearsInWords(years),
  ]
    .filter((part) => part !== '')
    .join(', ');
}

/** "four gardens" */
export function manyGardens(count: number): string {
  return `${count < 10 ? numberWord(count) : count} ${count === 1 ? 'garden' : 'gardens'}`;
}
